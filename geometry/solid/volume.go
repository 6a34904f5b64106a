package solid

// Volume returns the volume of the finished stone, in mm3, exactly.
//
// At gauge rho the stone is as high as Upper(rho) - Lower(rho), and the ring
// from rho to rho + drho covers the area A 2 rho drho, where A is the
// outline's area: scaling an outline by rho scales its area by rho^2. So
//
//	V = A * integral from 0 to 1 of 2 rho (Upper - Lower) drho.
//
// With r the rim ratio, h the wall, d the dome, k the back:
//
//	dome:  integral from 0 to r of 2 rho d sqrt(1 - (rho/r)^2) drho = 2/3 d r^2
//	wall:  h r^2 + integral from r to 1 of 2 rho h (1 - rho)/(1 - r) drho
//	       = h (1 + r + r^2)/3, the frustum of a cone
//	back:  2/3 k, the dome's integral with r = 1
func (c Cabochon) Volume() float64 {
	r := c.RimRatio()
	return c.Outline.Area() * (c.Wall*(1+r+r*r)/3 + 2.0/3*(c.Dome*r*r+c.BackDepth()))
}

// CentreOfHeight returns the height w half-way between the stone's lowest and
// highest point, in millimetres.
func (c Cabochon) CentreOfHeight() float64 { return (c.Wall + c.Dome - c.BackDepth()) / 2 }
