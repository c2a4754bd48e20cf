package raster

import (
	"encoding/binary"
	"slices"
	"sync"
)

// Four sums of 16 bits share a word.
const (
	lowBytes = 0x00ff00ff00ff00ff
	lowPairs = 0x0000ffff0000ffff
	twos     = 0x0002000200020002
)

// halve writes the rounded means of blocks of two by two pixels of rows a and b.
func halve(dst, a, b []uint8) {
	i := 0
	for ; i+4 <= len(dst) && 2*i+8 <= len(a) && 2*i+8 <= len(b); i += 4 {
		x, y := binary.LittleEndian.Uint64(a[2*i:]), binary.LittleEndian.Uint64(b[2*i:])
		s := x&lowBytes + x>>8&lowBytes + y&lowBytes + y>>8&lowBytes + twos
		s = s >> 2 & lowBytes
		s = (s | s>>8) & lowPairs
		binary.LittleEndian.PutUint32(dst[i:], uint32(s|s>>16))
	}
	for ; i < len(dst); i++ {
		s := uint32(a[2*i]) + uint32(a[2*i+1]) + uint32(b[2*i]) + uint32(b[2*i+1])
		dst[i] = uint8((s + 2) / 4)
	}
}

// halved reduces a plane of even sides by two, to how it looks upright.
func (p *Photo) halved(src, out *Plane) {
	p.lay(out, src.W/2, src.H/2, func(dst []uint8, j int) { halve(dst, src.Row(2*j), src.Row(2*j+1)) })
}

// turned copies a plane to how it looks upright.
func (p *Photo) turned(src, out *Plane) {
	p.lay(out, src.W, src.H, func(dst []uint8, j int) { copy(dst, src.Row(j)) })
}

// lay fills the upright picture with rows as they are stored, each made by row.
// Both halves of the picture are filled at the same time.
func (p *Photo) lay(out *Plane, cols, rows int, row func(dst []uint8, j int)) {
	fill := p.layRows
	if p.orient.swaps() {
		fill = p.layColumns
	}
	middle := rows / 2 / abreast * abreast
	var all sync.WaitGroup
	all.Go(func() { fill(out, cols, rows, 0, middle, row) })
	all.Go(func() { fill(out, cols, rows, middle, rows, row) })
	all.Wait()
}

// layRows lays stored rows from up to to as upright rows.
func (p *Photo) layRows(out *Plane, _, rows, from, to int, row func([]uint8, int)) {
	right, down := p.orient.reverses()
	for j := from; j < to; j++ {
		at := j
		if down {
			at = rows - 1 - j
		}
		dst := out.Row(at)
		row(dst, j)
		if right {
			slices.Reverse(dst)
		}
	}
}

// abreast is how many stored rows are laid together as upright columns: as many
// bytes as a word has, for memory is slow to write a byte here and a byte there.
const abreast = 8

// layColumns lays stored rows from up to to as upright columns.
func (p *Photo) layColumns(out *Plane, cols, rows, from, to int, row func([]uint8, int)) {
	right, down := p.orient.reverses()
	var side [abreast][]uint8
	for i := range side {
		side[i] = make([]uint8, cols)
	}
	for j := from; j < to; j += abreast {
		n := min(abreast, to-j)
		for i := range n {
			row(side[i], j+i)
			if right {
				slices.Reverse(side[i])
			}
		}
		left := j
		if down {
			left = rows - j - n
			slices.Reverse(side[:n])
		}
		if n == abreast {
			layWords(out.Pix[left:], out.Stride, &side)
			continue
		}
		for i, s := range side[:n] {
			for x, v := range s {
				out.Pix[x*out.Stride+left+i] = v
			}
		}
	}
}

// layWords writes eight rows as columns side by side.
func layWords(dst []uint8, stride int, side *[abreast][]uint8) {
	a := side[0]
	b, c, d, e := side[1][:len(a)], side[2][:len(a)], side[3][:len(a)], side[4][:len(a)]
	f, g, h := side[5][:len(a)], side[6][:len(a)], side[7][:len(a)]
	for x := range a {
		low := uint32(a[x]) | uint32(b[x])<<8 | uint32(c[x])<<16 | uint32(d[x])<<24
		high := uint32(e[x]) | uint32(f[x])<<8 | uint32(g[x])<<16 | uint32(h[x])<<24
		binary.LittleEndian.PutUint64(dst[x*stride:], uint64(low)|uint64(high)<<32)
	}
}
