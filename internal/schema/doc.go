// Package schema describes a design key by key: what each is called, what it means, in
// which unit and range it is given, and where it stands in a design.Design.
//
// The table of keys (Keys) is the only place where these stand. Files, --set, --vary,
// completion and explain all work from it, and so do the links by which one key follows
// another, the tolerances of keys and the searches over them. Nothing here knows how a
// file is written.
package schema
