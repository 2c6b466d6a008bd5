// Package clinalg solves dense systems of complex linear equations by LU
// factors with partial pivoting, blocked, on several cores.
//
// Matrices are in double or in single precision and stored by rows. Factor works from left to right in panels of
// panelWidth columns: the panel is factored by recursion on its columns
// (S. Toledo, Locality of reference in LU decomposition with partial pivoting,
// SIAM J. Matrix Anal. Appl. 18, 1997), the block row right of it is solved
// with the panel's unit lower triangle, and the rest is updated by a matrix
// product. Almost all arithmetic is in that product, so it has a
// register-blocked kernel: in assembly for amd64 processors with AVX2 and FMA,
// in Go elsewhere (K. Goto, R. van de Geijn, Anatomy of high-performance
// matrix multiplication, ACM TOMS 34, 2008).
//
// Every element of the result is made by the same operations in the same order
// whatever the number of workers, so results are reproducible bit for bit on
// one kind of processor. Growth of rounding errors is that of LU with partial
// pivoting (N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd
// ed. 2002, ch. 9).
package clinalg
