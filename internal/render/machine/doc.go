// Package machine renders results for programs: JSON and CSV. Numbers are SI in the
// unit that their key names, in one form, the shortest that reads back to the same
// value; what does not exist is null in JSON and empty in CSV. Texts in JSON keep to
// metric units, whatever the screen shows.
package machine

// SchemaVersion is the version of every JSON object the program prints. It rises when
// a key changes its meaning or goes away; new keys do not raise it.
const SchemaVersion = 1
