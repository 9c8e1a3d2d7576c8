import { describe, expect, test } from 'vitest'
import { hingesFromRoot } from '../../../../core/carton/blank.ts'
import { withAngles } from '../../../../core/carton/read/angles.ts'
import {
  codes,
  crease,
  cut,
  perforation,
  readLines,
  readText,
  svgOf,
  type TestLine,
  tuckCarton,
} from './drawn.ts'

describe('a carton', () => {
  const read = readLines(tuckCarton())
  const blank = read.blank!

  test('comes back with its panels, its hinges and no complaint', () => {
    expect(read.findings).toEqual([])
    expect(blank.root).toBe('front')
    expect(
      hingesFromRoot(blank)
        .map(({ parent, child }) => `${parent} to ${child}`)
        .sort(),
    ).toEqual([
      'back to bottom lid',
      'back to glue flap',
      'bottom lid to bottom tongue',
      'front to left side',
      'front to right side',
      'front to top lid',
      'left side to back',
      'left side to bottom left side dust flap',
      'left side to top left side dust flap',
      'right side to bottom right side dust flap',
      'right side to top right side dust flap',
      'top lid to top tongue',
    ])
  })

  test('lies with its lower left corner at 0, 0, and says where that was on the page', () => {
    expect([blank.widthMm, blank.heightMm]).toEqual([211.5, 210])
    expect(read.origin[0]).toBeCloseTo(20, 9)
    expect(read.origin[1]).toBeCloseTo(20, 9)
    const area = (name: string) => read.panels.find(panel => panel.name === name)!.areaMm2
    // Products of the drawn sizes.
    expect(area('front')).toBeCloseTo(60 * 100, 6)
    expect(area('right side')).toBeCloseTo(39.5 * 100, 6)
    expect(area('glue flap')).toBeCloseTo(12 * 95, 6)
    expect(area('top lid')).toBeCloseTo(60 * 40, 6)
    expect(area('bottom tongue')).toBeCloseTo(60 * 15, 6)
    expect(area('top left side dust flap')).toBeCloseTo(38 * 30, 6)
  })

  test('folds at right angles until told otherwise, the body first', () => {
    expect(new Set(blank.hinges.map(({ closedDeg }) => closedDeg))).toEqual(new Set([90]))
    const ends = (name: string) => blank.hinges.find(hinge => hinge.name === name)!.ends
    expect(ends('left side')).toBeLessThan(ends('glue flap'))
    expect(ends('glue flap')).toBeLessThan(ends('right side'))
    expect(ends('right side')).toBeLessThan(ends('top left side dust flap'))
    expect(ends('top left side dust flap')).toBeLessThan(ends('top lid'))
    const own = withAngles(blank, { 'top lid': 135 })
    expect(own.hinges.map(({ closedDeg }) => closedDeg).sort()).toEqual([135, ...Array(11).fill(90)])
  })

  test('mirrored, with the glue flap at the right, the left side still lies left of the front', () => {
    const mirrored = readLines(
      tuckCarton().map(({ kind, points }) => ({ kind, points: points.map(([x, y]) => [-x, y] as const) })),
    )
    expect(mirrored.findings).toEqual([])
    const center = (name: string) => {
      const { outline } = mirrored.blank!.panels.find(panel => panel.name === name)!
      return outline.reduce((sum, [x]) => sum + x / outline.length, 0)
    }
    expect(center('left side')).toBeLessThan(center('front'))
    expect(center('front')).toBeLessThan(center('right side'))
    expect(center('back')).toBeLessThan(center('glue flap'))
  })

  test('standing upright it has the same parts', () => {
    const upright = readLines(
      tuckCarton().map(({ kind, points }) => ({ kind, points: points.map(([x, y]) => [-y, x] as const) })),
    )
    expect(upright.findings).toEqual([])
    expect(upright.panels.map(({ name }) => name).sort()).toEqual(read.panels.map(({ name }) => name).sort())
  })

  test('perforations tear unless they are said to fold', () => {
    const strip = [perforation([112, 100], [172, 100]), perforation([112, 110], [172, 110])]
    const torn = readLines([...tuckCarton(), ...strip])
    expect(torn.findings).toEqual([])
    expect(torn.panels).toHaveLength(13)
    expect(torn.die.lines.filter(({ kind }) => kind === 'perforation')).toHaveLength(2)
    expect(readLines([...tuckCarton(), ...strip], { perforations: 'fold' }).panels).toHaveLength(15)
  })

  test('a window is a hole of its panel', () => {
    const circle = Array.from({ length: 91 }, (_, i): readonly [number, number] => [
      142 + 15 * Math.cos((i * Math.PI) / 45),
      110 + 15 * Math.sin((i * Math.PI) / 45),
    ])
    const windowed = readLines([...tuckCarton(), cut(...circle)])
    expect(windowed.findings).toEqual([])
    expect(windowed.blank!.panels.flatMap(({ name, windows = [] }) => windows.map(() => name))).toEqual([
      'front',
    ])
    const front = windowed.panels.find(({ name }) => name === 'front')!
    // 90 chords of a circle of 15 mm enclose (90/2)·15²·sin 4°; corners that stray less than 3 µm may be left out.
    expect(front.areaMm2).toBeCloseTo(6000 - 45 * 225 * Math.sin((4 * Math.PI) / 180), 0)
  })

  test('a slit is no fault', () => {
    expect(readLines([...tuckCarton(), cut([120, 150], [165, 150])]).findings).toEqual([])
    expect(readLines([...tuckCarton(), cut([112, 195], [119, 195])]).panels).toHaveLength(13)
  })
})

describe('what a drawing lacks, with its place', () => {
  const without = (drop: (line: TestLine) => boolean) => tuckCarton().filter(line => !drop(line))
  const isBody = (x: number) => (line: TestLine) =>
    line.kind === 'crease' && line.points.every(point => point[0] === x)

  test('a crease that does not reach', () => {
    const read = readLines([...without(isBody(112)), crease([112, 55], [112, 150])])
    expect(codes(read)).toContain('crease-short')
    const found = read.findings.find(({ code }) => code === 'crease-short')!
    expect(found).toMatchObject({ severity: 'error', message: expect.stringContaining('5 mm before') })
    expect(found.at![0]).toBeCloseTo(112, 6)
    expect(found.at![1]).toBeCloseTo(150, 6)
    expect(read.blank).toBeNull()
  })

  test('a crease kept clear by its relief folds, and is told', () => {
    const read = readLines([...without(isBody(112)), crease([112, 55.8], [112, 154.2])])
    expect(codes(read)).toEqual(['crease-relief', 'crease-relief'])
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('creases drawn as separate dashes are lines', () => {
    const dashed = tuckCarton().flatMap((line): TestLine[] => {
      if (line.kind === 'cut') return [line]
      const [p, q] = [line.points[0]!, line.points[1]!]
      const length = Math.hypot(q[0] - p[0], q[1] - p[1])
      const at = (s: number) =>
        [p[0] + ((q[0] - p[0]) * s) / length, p[1] + ((q[1] - p[1]) * s) / length] as const
      const count = Math.round(length / 5)
      const step = length / count
      // Each dash fills 70 % of its step, and the last one ends where the crease does.
      return Array.from({ length: count }, (_, i) =>
        crease(at(i * step), at(i === count - 1 ? length : (i + 0.7) * step)),
      )
    })
    const read = readLines(dashed)
    expect(codes(read)).toEqual(['crease-dashes'])
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('lines drawn in steps finer than the tolerance', () => {
    const fine = tuckCarton().map(({ kind, points }) => ({
      kind,
      points: points.flatMap((to, i) => {
        const from = points[i - 1]
        if (from === undefined) return [to]
        const count = Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / 0.03)
        return Array.from({ length: count }, (_, k) => {
          const t = (k + 1) / count
          return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])] as const
        })
      }),
    }))
    const read = readLines(fine)
    expect(read.findings).toEqual([])
    expect(read.panels).toHaveLength(13)
    expect(read.panels.find(({ name }) => name === 'front')!.areaMm2).toBeCloseTo(6000, 3)
  })

  test('a crease in the middle of a panel', () => {
    const read = readLines([...tuckCarton(), crease([120, 100], [160, 100])])
    expect(codes(read)).toEqual(['crease-short', 'crease-short'])
    expect(read.findings[0]!.message).toMatch(/stops (8|12) mm before/)
  })

  test('an open panel', () => {
    const read = readLines([
      ...without(({ kind, points }) => kind === 'cut' && points[0]![0] === 211.5 && points[0]![1] === 55),
      cut([211.5, 55], [211.5, 90]),
      cut([211.5, 110], [211.5, 155]),
    ])
    const found = read.findings.find(({ code }) => code === 'panel-open')!
    expect(found).toMatchObject({ severity: 'error', message: expect.stringContaining('20 mm') })
    expect(found.message).toMatch(/x 211\.5, y (90|110) mm/)
    // What the gap hides counts in the size, and is not told again.
    expect([read.widthMm, read.heightMm]).toEqual([expect.closeTo(211.5, 6), expect.closeTo(210, 6)])
    expect(codes(read)).toEqual(['panel-open'])
    expect(read.blank).toBeNull()
  })

  test('gaps: small ones are joined and told, of any line', () => {
    const read = readLines([
      ...without(({ kind, points }) => kind === 'cut' && points[0]![0] === 211.5 && points[0]![1] === 55),
      cut([211.5, 55], [211.5, 90]),
      cut([211.5, 90.6], [211.5, 155]),
    ])
    expect(codes(read)).toEqual(['gap-closed'])
    expect(read.findings[0]).toMatchObject({
      severity: 'warning',
      message: expect.stringContaining('0.6 mm'),
    })
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('a gap in a window is told', () => {
    const read = readLines([...tuckCarton(), cut([122, 103], [122, 120], [160, 120], [160, 100], [122, 100])])
    expect(codes(read)).toEqual(['cut-gap'])
    expect(read.findings[0]!.message).toContain('3 mm')
  })

  test('doubled lines', () => {
    const read = readLines([...tuckCarton(), crease([112, 60], [112, 100]), cut([211.55, 55], [211.55, 155])])
    expect(codes(read)).toEqual(['lines-doubled', 'lines-doubled'])
    expect(read.findings.map(({ message }) => /for (\d+) mm/.exec(message)![1]).sort()).toEqual(['100', '40'])
    expect(read.blank!.panels).toHaveLength(13)
    // Every panel drawn as a rectangle of its own doubles the shared creases.
    expect(codes(readLines([...tuckCarton(), ...tuckCarton()]))).toEqual(['lines-doubled'])
  })

  test('a cut on a crease', () => {
    const slit = readLines([...tuckCarton(), cut([112, 195], [119, 195])])
    expect(codes(slit)).toEqual(['cut-on-crease'])
    const hinge = slit.blank!.hinges.find(({ name }) => name === 'top tongue')!
    expect([hinge.from[0], hinge.to[0]].map(Math.round)).toEqual([119, 172])
    const whole = readLines([...tuckCarton(), cut([112, 195], [172, 195])])
    expect(whole.findings[0]!.message).toContain('cut-crease')
    expect(whole.blank!.panels).toHaveLength(13)
  })

  test('a loop in the tree', () => {
    // Lid and dust flap left joined where they should be cut apart, with a crease instead.
    const sheet = [
      cut([0, 0], [100, 0], [100, 80], [0, 80], [0, 0]),
      crease([0, 40], [100, 40]),
      crease([50, 0], [50, 80]),
    ]
    const read = readLines(sheet)
    expect(codes(read)).toEqual(['hinge-loop'])
    expect(read.findings[0]).toMatchObject({
      severity: 'error',
      message: expect.stringMatching(/"panel 1".*"panel 2".*through the crease from x/),
    })
    expect(read.panels.map(({ name }) => name).sort()).toEqual(['panel 1', 'panel 2', 'panel 3', 'panel 4'])
    expect(read.blank).toBeNull()
  })

  test('a line that touches nothing', () => {
    const read = readLines([...tuckCarton(), cut([250, 10], [260, 30])])
    expect(codes(read)).toEqual(['line-loose'])
    expect(read.findings[0]!.at).toEqual([expect.closeTo(255, 6), expect.closeTo(20, 6)])
    expect(read.blank!.widthMm).toBeCloseTo(211.5, 9)
  })

  test('a line that hangs on the blank and closes nothing; waste that is cut off beside it', () => {
    const read = readLines([...tuckCarton(), cut([211.5, 100], [240, 100])])
    expect(codes(read)).toEqual(['line-loose'])
    expect(read.findings[0]!.message).toContain('28.5 mm lies outside')
    expect(
      readLines([...tuckCarton(), cut([211.5, 100], [240, 100], [240, 140], [211.5, 140])]).findings,
    ).toEqual([])
  })

  test('a sheet frame around the die is no panel', () => {
    const frame = cut([-30, -30], [300, -30], [300, 300], [-30, 300], [-30, -30])
    const read = readLines([...tuckCarton(), frame])
    expect(codes(read)).toEqual(['line-loose'])
    expect(read.blank!.widthMm).toBeCloseTo(211.5, 9)
    expect(read.panels).toHaveLength(13)
  })

  test('a second carton', () => {
    const far = tuckCarton().map(({ kind, points }) => ({
      kind,
      points: points.map(([x, y]) => [x + 300, y] as const),
    }))
    const read = readLines([...tuckCarton(), ...far.filter(line => !isBody(472)(line))])
    expect(codes(read)).toContain('other-blanks')
    expect(read.blank!.panels).toHaveLength(13)
  })

  test('a curved crease', () => {
    const arc = Array.from({ length: 21 }, (_, i): readonly [number, number] => [
      i * 5,
      40 + 8 * Math.sin((i * Math.PI) / 20),
    ])
    const read = readLines([cut([0, 0], [100, 0], [100, 80], [0, 80], [0, 0]), crease(...arc)])
    expect(codes(read)).toEqual(['crease-not-straight'])
    expect(read.findings[0]!.message).toContain('8 mm')
  })

  test('nothing to fold', () => {
    expect(codes(readLines([cut([0, 0], [100, 0], [100, 80], [0, 80], [0, 0])]))).toEqual(['no-creases'])
    expect(codes(readLines([cut([0, 0], [100, 0], [100, 80]), crease([0, 40], [100, 40])]))).toContain(
      'no-panels',
    )
    expect(
      codes(
        readText('<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"/>'),
      ),
    ).toEqual(['no-lines'])
  })

  test.each([
    ['in', 1 / 25.4, /in taken for mm \(× 25\.4: 211\.5 mm × 210 mm\)/],
    ['px', 96 / 25.4 / 0.2, /×/],
  ])('wrong scale, %s', (_, factor, words) => {
    const lines = tuckCarton().map(({ kind, points }) => ({
      kind,
      points: points.map(([x, y]) => [x * factor, y * factor] as const),
    }))
    const read = readLines(lines)
    expect(read.findings.find(({ code }) => code === 'scale-wrong')).toMatchObject({
      severity: 'error',
      message: expect.stringMatching(words),
    })
    expect(read.blank).toBeNull()
  })

  const scaled = (factor: number) =>
    readLines(
      tuckCarton().map(({ kind, points }) => ({
        kind,
        points: points.map(([x, y]) => [x * factor, y * factor] as const),
      })),
    )

  // 1 in = 72 pt = 96 px = 25.4 mm. Its flap of 12 mm is the measure: the blank of 60 or 7.5 cm could be a carton's.
  test.each([
    [
      'points taken for millimetres',
      72 / 25.4,
      /^it is 34 mm wide, much more than usual; maybe pt taken for mm \(× 0\.3528: 12 mm, and a blank of 211\.5 mm × 210 mm\)/,
    ],
    ['pixels taken for millimetres', 96 / 25.4, /more than usual; .*px taken for mm \(× 0\.2646: 12 mm/],
    ['millimetres taken for points', 25.4 / 72, /less than usual; .*mm taken for pt \(× 2\.835: 12 mm/],
  ])('a size that could be, and is not: %s', (_, factor, words) => {
    const read = scaled(factor)
    expect(codes(read)).toEqual(['scale-doubted'])
    expect(read.findings[0]).toMatchObject({ severity: 'warning', where: 'glue flap' })
    expect(read.findings[0]!.message).toMatch(words)
    expect(read.blank).not.toBeNull()
  })

  test('large and small cartons are believed', () => {
    for (const factor of [0.6, 1, 1.5, 2.5]) expect(codes(scaled(factor))).toEqual([])
  })

  test('a drawing in points that says so has its size', () => {
    const points = tuckCarton().map(({ kind, points: all }) => ({
      kind,
      points: all.map(([x, y]) => [(x * 72) / 25.4, (y * 72) / 25.4] as const),
    }))
    const read = readText(svgOf(points, { unit: 'pt' }))
    expect(read.findings).toEqual([])
    expect(read.blank!.widthMm).toBeCloseTo(211.5, 6)
  })

  test('a drawing in inches that says so has its size', () => {
    const inches = tuckCarton().map(({ kind, points: all }) => ({
      kind,
      points: all.map(([x, y]) => [x / 25.4, y / 25.4] as const),
    }))
    const read = readText(svgOf(inches, { unit: 'in', margin: 1 }))
    expect(read.findings).toEqual([])
    expect(read.blank!.widthMm).toBeCloseTo(211.5, 6)
  })

  test('a tongue with corners drawn as arcs is a panel of their area', () => {
    // 100 × 40 mm with two corners of 8 mm at the top: (2 − π/2) · 8² less than 4000 mm².
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="120mm" viewBox="0 0 120 120">
      <g id="cut" fill="none" stroke="red"><path d="M10 50V18A8 8 0 0 1 18 10H102A8 8 0 0 1 110 18V50V110H10V50"/></g>
      <g id="crease" fill="none" stroke="blue"><path d="M10 50H110"/></g></svg>`
    const { findings, panels } = readText(svg)
    expect(findings).toEqual([])
    const areas = panels.map(({ areaMm2 }) => areaMm2).sort((a, b) => a - b)
    // Chords stray from the arc by 0.02 mm at most, over 25 mm of it.
    expect(Math.abs(areas[0]! - (4000 - (2 - Math.PI / 2) * 64))).toBeLessThan(0.5)
    expect(areas[1]).toBeCloseTo(6000, 6)
  })

  test('of many alike only some are told', () => {
    const many = Array.from({ length: 40 }, (_, i) => cut([300 + 3 * i, 0], [300 + 3 * i, 20]))
    const found = readLines([...tuckCarton(), ...many]).findings.filter(({ code }) => code === 'line-loose')
    expect(found).toHaveLength(12)
    expect(found.at(-1)!.message).toContain('28 more')
  })
})
