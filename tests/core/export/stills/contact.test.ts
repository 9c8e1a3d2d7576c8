import { describe, expect, test } from 'vitest'
import { angleAt, contactLayout, place, writeAngles } from '../../../../core/export/stills/contact.ts'
import { type Canvas, textWidth, write } from '../../../../core/export/stills/lettering.ts'

const size = {
  cellWidth: 90,
  cellHeight: 60,
  tilt: { fromDeg: 30, toDeg: -30, count: 3 },
  turn: { fromDeg: -45, toDeg: 45, count: 4 },
}
const blank = (width: number, height: number, channels = 3): Canvas => ({
  width,
  height,
  channels,
  data: new Uint8Array(width * height * channels).fill(100),
})

/** Samples of a part of a picture. */
function part({ width, channels, data }: Canvas, x: number, y: number, w: number, h: number): number[] {
  return Array.from({ length: h }, (_, j) => [
    ...data.subarray(((y + j) * width + x) * channels, ((y + j) * width + x + w) * channels),
  ]).flat()
}

describe('contact sheet', () => {
  test('angles go from first to last in even steps; one alone is their middle', () => {
    expect([0, 1, 2].map(i => angleAt(size.tilt, i))).toEqual([30, 0, -30])
    expect(angleAt({ fromDeg: 10, toDeg: 20, count: 1 }, 0)).toBe(15)
  })

  test('cells keep every sample that is put there, and words stay out of them', () => {
    const { width, height, cell } = contactLayout(size)
    const canvas = blank(width, height)
    const cells = Array.from({ length: 12 }, (_, i) => ({
      ...blank(size.cellWidth, size.cellHeight),
      data: Uint8Array.from(
        { length: size.cellWidth * size.cellHeight * 3 },
        (_, k) => (k * 7 + i * 31) % 256,
      ),
    }))
    for (const [i, one] of cells.entries()) {
      const { x, y } = cell(Math.floor(i / 4), i % 4)
      place(canvas, one, x, y)
    }
    writeAngles(canvas, size, [255, 255, 255])
    for (const [i, one] of cells.entries()) {
      const { x, y } = cell(Math.floor(i / 4), i % 4)
      expect(part(canvas, x, y, size.cellWidth, size.cellHeight)).toEqual([...one.data])
    }
  })

  test('every row and every column has its words beside it', () => {
    const { width, height, letter, cell } = contactLayout(size)
    const canvas = blank(width, height)
    writeAngles(canvas, size, [255, 255, 255])
    for (let row = 0; row < 3; row++) {
      const { x, y } = cell(row, 0)
      expect(Math.max(...part(canvas, 0, y, x, size.cellHeight))).toBe(255)
    }
    for (let column = 0; column < 4; column++) {
      const { x, y } = cell(0, column)
      expect(Math.max(...part(canvas, x, 0, size.cellWidth, y))).toBe(255)
      // Words fit above their cell.
      expect(textWidth('turn −45°', letter)).toBeLessThan(size.cellWidth)
    }
    expect(Math.max(...part(canvas, 0, 0, cell(0, 0).x, cell(0, 0).y))).toBe(100)
  })
})

describe('lettering', () => {
  test('what is written is as wide as said, and differs sign by sign', () => {
    const seen = new Set<string>()
    for (const sign of '0123456789−°tilurn') {
      const canvas = blank(80, 60, 1)
      write(canvas, sign, 20, 45, 30, [255])
      const columns = Array.from({ length: 80 }, (_, x) => Math.max(...part(canvas, x, 0, 1, 60)) > 110)
      expect(columns.indexOf(true)).toBeGreaterThanOrEqual(16)
      expect(columns.lastIndexOf(true)).toBeLessThanOrEqual(20 + textWidth(sign, 30) + 4)
      seen.add([...canvas.data].join())
    }
    expect(seen.size).toBe(18)
  })

  test('a sign that it does not have is refused by name', () => {
    expect(() => textWidth('tilt?', 10)).toThrow('got "?"')
  })
})
