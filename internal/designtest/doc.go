// Package designtest holds invented designs for the tests of several packages. It
// is used by tests only.
package designtest
