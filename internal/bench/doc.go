// Package bench measures the whole program on real novels: chapters found,
// lessons, time by stage and peak memory. It runs with the build tag "bench"
// (make bench) and fails where the novels are missing; they are test data and
// no part of the repository.
package bench
