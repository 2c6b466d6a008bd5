// Package fit finds what of a design cannot be built together and the value of one key
// that would mend it. A conflict between stated values is a misfit; one that rests on
// something the design does not say is only a note, which names the key that settles it.
package fit
