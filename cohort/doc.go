// Package cohort tells what a class did with its questions: which slips, at
// which step, how hard each question was, how well it told the students apart,
// and which answers were given by several.
//
// Its words: a script is what one student handed in for one question. The
// share of a script is its marks over those to be had. The difficulty of a
// question is the mean share, so a larger figure is an easier question. Its
// discrimination is the correlation of its marks with the total of the other
// questions of the same student: the corrected point-biserial correlation, in
// its general form for questions of more than one mark. Alpha says how far a
// set of questions ranks the students alike.
//
// Alpha is that of L. J. Cronbach, "Coefficient alpha and the internal
// structure of tests", Psychometrika 16 (1951) 297, from memory. Difficulty
// and corrected discrimination are common practice, no source.
//
// Sums of marks are exact integers, and alpha and a correlation are rounded at
// their end alone: alpha is never above 1, a correlation never outside -1 to 1.
// Scripts are taken in the order of their names, so the order of the list
// changes no figure.
//
// Whether an answer is right, what a slip means, how to put an answer in a
// normal form, and who may see the students of a group are left to others.
package cohort
