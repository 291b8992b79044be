module halves

go 1.26
