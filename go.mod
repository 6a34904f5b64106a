module cabwright

go 1.25.0
