// Package live serves a design as one page in a browser on the same machine: sliders for
// its keys, and what the program computes of them.
//
// The page holds the state, a list of settings as --set takes them; each request carries it
// whole, so that several pages may be open and none can leave the server in a wrong state.
// Figures come from the studies, texts from package describe, pictures from package plots:
// the page's script only arranges them.
//
// Nothing is written. Whoever wants a file has the browser save it.
package live
