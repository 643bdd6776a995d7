// Package sparse solves symmetric positive definite equations whose matrix is
// that of a network of conductances: few entries a row, the same pattern again
// and again.
//
// [Analyse] looks at the pattern once: it orders the unknowns by approximate
// minimum degree, finds the supernodes and every place an entry will need. A
// [Matrix] on that pattern is then filled, factorised (Cholesky, left-looking by
// supernodes) and solved as often as wanted without allocating.
//
// Sources: P. R. Amestoy, T. A. Davis, I. S. Duff, "An approximate minimum degree
// ordering algorithm", SIAM J. Matrix Anal. Appl. 17 (1996) 886; J. W. H. Liu,
// "The role of elimination trees in sparse factorization", SIAM J. Matrix Anal.
// Appl. 11 (1990) 134; E. Ng, B. Peyton, "Block sparse Cholesky algorithms on
// advanced uniprocessor computers", SIAM J. Sci. Comput. 14 (1993) 1034.
package sparse
