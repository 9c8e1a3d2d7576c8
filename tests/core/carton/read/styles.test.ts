import { describe, expect, test } from 'vitest'
import type { Blank } from '../../../../core/carton/blank.ts'
import { cartonBlank } from '../../../../core/carton/carton.ts'
import type { Outline } from '../../../../core/carton/die.ts'
import { fold, placed } from '../../../../core/carton/fold.ts'
import { cartonStyles } from '../../../../core/carton/style.ts'
import { dieSvg } from '../../../../core/carton/svg-out.ts'
import { readText } from './drawn.ts'

const sizes: readonly (readonly [length: number, width: number, height: number, caliper: number])[] = [
  [60, 40, 100, 0.4],
  [62, 45, 120, 0.35],
  [120, 60, 90, 0.5],
  [200, 80, 250, 0.8],
]

const blankOf = (style: (typeof cartonStyles)[number], [L, W, H, S]: (typeof sizes)[number]): Blank =>
  cartonBlank({
    top: style.top,
    bottom: style.bottom,
    lengthMm: L,
    widthMm: W,
    heightMm: H,
    measure: 'outside',
    caliperMm: S,
    own: {},
    code: '',
  })

const area = (outline: Outline) =>
  Math.abs(
    outline.reduce((sum, [x, y], i) => {
      const [nx, ny] = outline[(i + 1) % outline.length]!
      return sum + (x * ny - nx * y) / 2
    }, 0),
  )

/** Styles whose ends the reader folds at the usual times, by their place alone. */
const plain: readonly string[] = ['straight-tuck', 'reverse-tuck', 'seal-end', 'sleeve']

/** Where a panel's middle lies. */
const center = (outline: Outline) => {
  const twice = outline.map(([x, y], i) => {
    const [nx, ny] = outline[(i + 1) % outline.length]!
    return [(x + nx) * (x * ny - nx * y), (y + ny) * (x * ny - nx * y), x * ny - nx * y] as const
  })
  const sum = (k: 0 | 1 | 2) => twice.reduce((total, one) => total + one[k], 0)
  return [sum(0) / (3 * sum(2)), sum(1) / (3 * sum(2))] as const
}

describe.each(cartonStyles.map(style => [style.name, style] as const))('%s', (_, style) => {
  test.each(sizes)(
    '%s × %s × %s mm, board %s mm: drawn and read it has the same panels and hinges',
    (...size) => {
      const made = blankOf(style, size)
      const read = readText(dieSvg(made, 'Eyepiece'), { caliperMm: size[3] })
      expect(read.findings.filter(({ severity }) => severity !== 'note')).toEqual([])
      const blank = read.blank!
      expect(blank.widthMm).toBeCloseTo(made.widthMm, 2)
      expect(blank.heightMm).toBeCloseTo(made.heightMm, 2)
      expect(blank.panels).toHaveLength(made.panels.length)
      // Which panel of the drawing each panel is: the one whose middle lies at the same place.
      const twin = new Map(
        made.panels.map(({ name, outline }) => {
          const [x, y] = center(outline)
          const found = blank.panels.reduce((best, one) => {
            const away = ({ outline: other }: typeof one) =>
              Math.hypot(center(other)[0] - x, center(other)[1] - y)
            return away(one) < away(best) ? one : best
          })
          // Lines nearer than 0.1 mm are one: an edge moves by less, along its length.
          const around = outline.reduce((sum, [px, py], i) => {
            const [qx, qy] = outline[(i + 1) % outline.length]!
            return sum + Math.hypot(qx - px, qy - py)
          }, 0)
          expect(Math.abs(area(found.outline) - area(outline)), name).toBeLessThan(0.1 * around)
          return [name, found.name]
        }),
      )
      expect(new Set(twin.values()).size).toBe(made.panels.length)
      const pairs = (hinges: Blank['hinges'], of = (name: string) => name) =>
        hinges.map(({ parent, child }) => [of(parent), of(child)].sort().join(' | ')).sort()
      expect(pairs(blank.hinges)).toEqual(pairs(made.hinges, name => twin.get(name)!))
      for (const [name, found] of twin) expect(found).toBe(name)
      expect(blank.root).toBe(made.root)
      if (!plain.includes(style.name)) return
      // Folded half and whole each panel stands where the drawn carton's does.
      for (const amount of [0.5, 1]) {
        const [here, there] = [fold(blank, amount), fold(made, amount)]
        for (const { name, outline } of made.panels) {
          const [p, q] = [here, there].map(placings => placed(placings.get(name)!, ...center(outline), 0))
          // Ends of creases are rounded to 0.001 mm in the drawing, and move by less than 0.1 mm where lines meet.
          expect(
            Math.hypot(p![0] - q![0], p![1] - q![1], p![2] - q![2]),
            `${name} at ${amount}`,
          ).toBeLessThan(0.3)
        }
      }
    },
  )
})
