package raster

import "encoding/binary"

// Four sums of 16 bits share a word.
const (
	lowBytes = 0x00ff00ff00ff00ff
	twos     = 0x0002000200020002
)

// halve writes the rounded means of blocks of two by two pixels of rows a and b.
func halve(dst, a, b []uint8) {
	i := 0
	for ; i+4 <= len(dst) && 2*i+8 <= len(a) && 2*i+8 <= len(b); i += 4 {
		x, y := binary.LittleEndian.Uint64(a[2*i:]), binary.LittleEndian.Uint64(b[2*i:])
		s := x&lowBytes + x>>8&lowBytes + y&lowBytes + y>>8&lowBytes + twos
		s = s >> 2 & lowBytes
		d := dst[i : i+4 : i+4]
		d[0], d[1], d[2], d[3] = uint8(s), uint8(s>>16), uint8(s>>32), uint8(s>>48)
	}
	for ; i < len(dst); i++ {
		s := uint32(a[2*i]) + uint32(a[2*i+1]) + uint32(b[2*i]) + uint32(b[2*i+1])
		dst[i] = uint8((s + 2) / 4)
	}
}

// halved reduces a plane of even sides by two, to how it looks upright.
func (p *Photo) halved(src, out *Plane) {
	row := make([]uint8, src.W/2)
	for j := range src.H / 2 {
		halve(row, src.Row(2*j), src.Row(2*j+1))
		p.place(out, row, j, src.H/2)
	}
}

// turned copies a plane to how it looks upright.
func (p *Photo) turned(src, out *Plane) {
	for j := range src.H {
		p.place(out, src.Row(j), j, src.H)
	}
}

// place writes stored row j of so many to the upright picture.
func (p *Photo) place(out *Plane, row []uint8, j, rows int) {
	right, down := p.orient.reverses()
	if down {
		j = rows - 1 - j
	}
	switch {
	case p.orient.swaps():
		scatter(out.Pix[j:], out.Stride, row, right)
	case right:
		scatter(out.Row(j), 1, row, right)
	default:
		copy(out.Row(j), row)
	}
}

// scatter writes a row to every stride-th place, from its end if reversed.
func scatter(dst []uint8, stride int, row []uint8, reversed bool) {
	k, step := 0, stride
	if reversed {
		k, step = (len(row)-1)*stride, -stride
	}
	for _, v := range row {
		dst[k] = v
		k += step
	}
}
