// Package section cuts a design into the outlines in the plane that the wave
// level of trust solves: the horizontal section through cabinet and horn, the
// two layers of the folded guide, and the turn between them.
//
// What a design does not say is filled in as each function states. What it
// would have to say, or what does not fit, comes back as faults, which package check
// words in keys of the file. Lengths are in m.
package section
