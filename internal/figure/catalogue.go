package figure

// catalogue lists every figure in the order in which it is printed.
var catalogue []*Def
