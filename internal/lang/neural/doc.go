// Package neural reads sentences with a small neural network: tags, trees,
// sentence types, the names of people and places, and word senses, all
// from one pass.
//
// A word is the sum of rows of a table (the word, its letter shape, its affixes
// and n-grams: [Reader] caches the sums, features.go says which rows), so no
// word is unknown. Four transformer layers of 192 numbers a word follow, and a
// linear head for each question asked. Trees are the best ones of the arc scores
// with one word under the root (Chu-Liu and Edmonds).
//
// Weights are 8-bit integers and all matrix products sum integers, so machines
// with and without vector instructions give the same bits; what is left of
// floating point is written so that no compiler may fuse it.
//
// The weights (reader.bin, with reader.md, its card) are made by train/.
// Start at [Load], then [Reader.Read].
package neural
