// Package sizing estimates what boxes in a line do: how far a stack of woofers
// couples, what a mouth-splitting insert does, how low the horn holds its pattern,
// where the crossover gap lies, and what one box does at the low end.
package sizing
