// Package part cuts long work into slices that run anywhere and are joined
// again.
//
// A part file is text. Its first line, the head, is a JSON object that says what
// the part belongs to. Each line that follows starts with a letter that says what
// it holds and with a mark, the first eight digits of a SHA-256 digest that goes
// on from line to line, so that a line that was altered, left out, doubled or
// moved is found and named. The last one, E, the foot, says that the part is
// complete and carries the whole digest of everything in its order. The digests
// tell damage and mistakes; they are no signature.
//
// A file is read twice: once to check it, and once, checked again on the way, to
// hand its lines on. So it must be a regular file, and memory stays flat however
// long it is.
package part
