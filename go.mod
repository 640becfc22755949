module bookstead

go 1.26
