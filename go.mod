module bushtune

go 1.26
