// Package cabinet puts boxes in a line: how far a stack of woofers couples,
// what a mouth-splitting insert does, where the crossover gap lies, and what
// field the stack makes.
package cabinet
