import { cpuUsage } from 'node:process'
import { describe, expect, test } from 'vitest'
import { hingesFromRoot } from '../../../../core/carton/blank.ts'
import type { Point } from '../../../../core/carton/die.ts'
import type { DieReading } from '../../../../core/carton/read/read-die.ts'
import { codes, crease, cut, readLines, readText, svgOf } from './drawn.ts'
import { chanceOf, disturbed, type RandomDie, randomDie } from './random-die.ts'

const inside = (outline: readonly Point[], [x, y]: Point) =>
  outline.reduce((odd, [ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!
    return ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax) ? !odd : odd
  }, false)

/** Checks panels by where they lie and hinges by which two they join. */
function expectSame(read: DieReading, drawn: RandomDie, areaTolerance: number, says: string) {
  expect(read.blank, `${says}: ${read.findings.map(({ message }) => message).join('; ')}`).not.toBeNull()
  const blank = read.blank!
  const [left, bottom] = [
    Math.min(...drawn.lines.flatMap(({ points }) => points.map(([x]) => x))),
    Math.min(...drawn.lines.flatMap(({ points }) => points.map(([, y]) => y))),
  ]
  const names = drawn.centers.map(([x, y], i) => {
    const found = blank.panels.filter(({ outline }) => inside(outline, [x - left, y - bottom]))
    expect(found, says).toHaveLength(1)
    const area = read.panels.find(({ name }) => name === found[0]!.name)!.areaMm2
    expect(Math.abs(area - drawn.areas[i]!), says).toBeLessThanOrEqual(areaTolerance)
    return found[0]!.name
  })
  expect(new Set(names).size, says).toBe(blank.panels.length)
  const pair = (a: string, b: string) => [a, b].sort().join(' | ')
  expect(blank.hinges.map(({ parent, child }) => pair(parent, child)).sort(), says).toEqual(
    drawn.parents.map(([child, parent]) => pair(names[child]!, names[parent]!)).sort(),
  )
  expect(hingesFromRoot(blank), says).toHaveLength(drawn.parents.length)
}

describe('random tree-shaped dies', () => {
  test('come back as they were drawn', () => {
    for (let seed = 1; seed <= 120; seed++) {
      const die = randomDie(2 + (seed % 24), chanceOf(seed))
      const read = readLines(die.lines)
      expect(codes(read), `seed ${seed}`).toEqual([])
      // Corners that change less than 3 µm may be left out of outlines of some hundred mm.
      expectSame(read, die, 1, `seed ${seed}`)
    }
  })

  test('shuffled, cut in pieces, reversed and moved by up to 0.03 mm they have the same panels', () => {
    for (let seed = 1; seed <= 120; seed++) {
      const chance = chanceOf(1000 + seed)
      const die = randomDie(2 + (seed % 24), chance)
      const read = readLines(disturbed(die.lines, 0.03, chance))
      // Each edge is at most 40 mm and moves by less than the tolerance of 0.1 mm.
      expectSame(read, die, 4 * 40 * 0.1, `seed ${seed}`)
    }
  })

  test('the same drawing twice, in any order, reads the same', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const chance = chanceOf(2000 + seed)
      const die = randomDie(12, chance)
      const [a, b] = [readLines(die.lines), readLines(disturbed(die.lines, 0, chance))]
      expect(b.panels.map(({ name }) => name).sort()).toEqual(a.panels.map(({ name }) => name).sort())
      expect(b.blank!.root).toBe(a.blank!.root)
    }
  })

  test('in two colours and no names cut and crease are told apart by the outline', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const die = randomDie(6, chanceOf(3000 + seed))
      const read = readText(svgOf(die.lines, { names: false }))
      expect(codes(read)).toEqual(['kinds-by-color'])
      expect(read.findings[0]!.message).toContain('#e3001b is taken for cut')
      expectSame(read, die, 1, `seed ${seed}`)
    }
  })
})

describe('large drawings', () => {
  /** Processor time of reading a sheet of small windows and a die, ms: the machine may be busy. */
  const timed = (windows: number) => {
    const die = randomDie(12, chanceOf(7))
    const side = Math.ceil(Math.sqrt(windows))
    const many = Array.from({ length: windows }, (_, i) => {
      const [x, y] = [(i % side) * 3 + 400, Math.floor(i / side) * 3]
      return cut([x, y], [x + 2, y], [x + 2, y + 2], [x, y + 2], [x, y])
    })
    const text = svgOf([...die.lines, ...many])
    const begun = cpuUsage()
    const read = readText(text)
    expect(read.blank!.panels).toHaveLength(12)
    const { user, system } = cpuUsage(begun)
    return (user + system) / 1000
  }

  test('20 000 lines take seconds, and four times the lines about four times as long', () => {
    timed(300)
    const [small, large] = [timed(1250), timed(5000)]
    // Quadratic would be 16 times.
    expect(large / small).toBeLessThan(10)
    expect(large).toBeLessThan(20_000)
  })

  test('a grid in which everything crosses', () => {
    const lines = Array.from({ length: 100 }, (_, i) => [cut([i, 0], [i, 99]), cut([0, i], [99, i])]).flat()
    const read = readLines(lines)
    // Every cell is a piece of its own, and 1 mm is no carton.
    expect(codes(read)).toEqual(['no-creases', 'scale-wrong'])
  })

  test('a grid of creases is a thousand rings, and says so soon', () => {
    const count = 60
    const last = count * 3
    const lines = Array.from({ length: count - 1 }, (_, k) => {
      const at = 3 * (k + 1)
      return [crease([at, 0], [at, last]), crease([0, at], [last, at])]
    }).flat()
    const read = readLines([...lines, cut([0, 0], [last, 0], [last, last], [0, last], [0, 0])])
    expect(read.panels).toHaveLength(count * count)
    // Folds less those of a tree: 2·60·59 − (60² − 1).
    expect(read.findings.at(-1)!.message).toContain(`${2 * 60 * 59 - 3599 - 12} more`)
    expect(new Set(codes(read))).toEqual(new Set(['hinge-loop']))
  })
})
