import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../../core/base/finding.ts'
import { readSvg, type SvgOptions } from '../../../../core/carton/read/svg.ts'

const read = (svg: string, options: SvgOptions = {}) =>
  readSvg(new TextEncoder().encode(svg), 'box.svg', options)
const page = (inside: string, head = 'width="100mm" height="50mm" viewBox="0 0 100 50"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${head}>${inside}</svg>`
const line = '<line x1="0" y1="50" x2="36" y2="50" stroke="red"/>'
const refused = (svg: string) => {
  try {
    read(svg)
  } catch (error) {
    if (error instanceof BadInput) return error
    throw error
  }
  throw new Error('expected BadInput')
}

describe('units', () => {
  // CSS Values and Units 3, section 5.2: 1 in = 2.54 cm = 25.4 mm = 72 pt = 6 pc = 96 px.
  test.each([
    ['width="100mm" viewBox="0 0 100 50"', 36],
    ['width="10cm" viewBox="0 0 100 50"', 36],
    ['width="1in" viewBox="0 0 72 50"', 12.7],
    ['width="72pt" viewBox="0 0 72 50"', 12.7],
    ['width="6pc" viewBox="0 0 72 50"', 12.7],
    ['width="96px" viewBox="0 0 96 50"', 9.525],
    ['width="96" height="50"', 9.525],
    ['viewBox="0 0 96 50"', 9.525],
    ['height="50mm" viewBox="0 0 96 50"', 36],
    ['width="100%" height="100%" viewBox="0 0 96 50"', 9.525],
  ])('%s', (head, length) => {
    const [first] = read(page(line, head)).lines
    // Double precision on numbers of this size.
    expect(first!.points.at(-1)![0] - first!.points[0]![0]).toBeCloseTo(length, 10)
  })

  test('a unit that the file does not state is told, and can be given', () => {
    const bare = read(page(line, 'viewBox="0 0 96 50"'))
    expect(bare.findings.map(({ code }) => code)).toEqual(['unit-assumed'])
    expect(bare.findings[0]!.message).toContain('96')
    const given = read(page(line, 'viewBox="0 0 96 50"'), { unit: 'mm' })
    expect(given.findings).toEqual([])
    expect(given.lines[0]!.points.at(-1)).toEqual([36, 0])
    expect(read(page(line)).findings).toEqual([])
  })

  test('y grows upwards from the lower edge of the page', () => {
    const { lines, heightMm } = read(page('<path stroke="red" d="M3 10V20"/>'))
    expect(heightMm).toBe(50)
    expect(lines[0]!.points).toEqual([
      [3, 40],
      [3, 30],
    ])
  })
})

describe('geometry', () => {
  const points = (inside: string) => read(page(inside)).lines[0]!.points

  test('nested transforms act from the inside out', () => {
    const svg =
      '<g transform="translate(10 5)"><g transform="rotate(90) scale(2)"><path stroke="red" d="M0 0h4"/></g></g>'
    const [from, to] = points(svg)
    expect(from).toEqual([10, 45])
    expect(to![0]).toBeCloseTo(10, 12)
    // 8 mm downwards on the page.
    expect(to![1]).toBeCloseTo(37, 12)
  })

  test.each([
    ['matrix(1 2 3 4 5 6)', [3 * 2 + 5 + 1, 2 + 4 * 2 + 6]],
    ['skewX(45)', [3, 2]],
    ['skewY(45)', [1, 3]],
    ['rotate(180, 5, 5)', [9, 8]],
    ['scale(3),translate(1,1)', [6, 9]],
  ])('%s', (transform, [x, y]) => {
    const [, to] = points(`<path stroke="red" transform="${transform}" d="M0 0L1 2"/>`)
    expect(to![0]).toBeCloseTo(x!, 12)
    expect(50 - to![1]).toBeCloseTo(y!, 12)
  })

  test('an arc stays on its circle', () => {
    const arc = points('<path stroke="red" d="M10 10a20 20 0 0 1 20 20"/>')
    expect(arc.length).toBeGreaterThan(10)
    // A cubic for a quarter turn strays by 2.8e-4 of its radius.
    for (const [x, y] of arc) expect(Math.abs(Math.hypot(x - 10, 50 - y - 30) - 20)).toBeLessThan(20 * 2.8e-4)
    expect(arc.at(-1)![0]).toBeCloseTo(30, 10)
  })

  test('shapes', () => {
    const closed = (inside: string) => {
      const all = points(inside)
      expect(all[0]![0]).toBeCloseTo(all.at(-1)![0], 9)
      expect(all[0]![1]).toBeCloseTo(all.at(-1)![1], 9)
      const xs = all.map(([x]) => x)
      const ys = all.map(([, y]) => 50 - y)
      return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)].map(
        one => Math.round(one * 1e6) / 1e6,
      )
    }
    expect(closed('<rect x="1" y="2" width="30" height="10" stroke="red"/>')).toEqual([1, 31, 2, 12])
    expect(closed('<rect x="1" y="2" width="30" height="10" rx="99" stroke="red"/>')).toEqual([1, 31, 2, 12])
    expect(closed('<circle cx="20" cy="20" r="5" stroke="red"/>')).toEqual([15, 25, 15, 25])
    expect(closed('<ellipse cx="20" cy="20" rx="5" ry="2" stroke="red"/>')).toEqual([15, 25, 18, 22])
    expect(closed('<polygon points="1,1 5,1 5-3" stroke="red"/>')).toEqual([1, 5, -3, 1])
    expect(points('<polyline points="1 1 5 1 5 4" stroke="red"/>')).toHaveLength(3)
  })

  test('parts that are used again', () => {
    const { lines } = read(
      page(
        `<defs><g id="tab" class="crease"><path stroke="red" d="M0 0h5"/></g>
         <symbol id="s" viewBox="0 0 10 10"><path stroke="red" d="M0 0h10"/></symbol></defs>
         <use href="#tab" x="10" y="20"/><use href="#s" x="50" y="10" width="20" height="20"/>`,
      ),
    )
    expect(lines.map(({ points: all }) => all)).toEqual([
      [
        [10, 30],
        [15, 30],
      ],
      [
        [50, 40],
        [70, 40],
      ],
    ])
    expect(lines[0]!.names).toEqual([['tab', 'crease']])
  })
})

describe('names and paint', () => {
  test('every name of every group, nearest first', () => {
    const { lines } = read(
      page(
        `<g id="Die_x20_line"><g id="l2" label="Creasing"><title>Folds</title><path id="p" stroke="red" d="M0 0h5"/></g></g>`,
      ),
    )
    expect(lines[0]!.names).toEqual([['p'], ['Creasing', 'Folds', 'l2'], ['Die line']])
  })

  test('style sheets, style and attributes', () => {
    const { lines } = read(
      page(
        `<style>/* a */ .a, .b{stroke:#E3001B;fill:none} .b{stroke-dasharray:2 1} path{stroke:lime}</style>
         <path class="a" d="M0 0h5"/><path class="b" d="M0 0h5"/><path d="M0 0h5"/>
         <path stroke="rgb(0, 0, 255)" style="stroke:#0ff" d="M0 0h5"/><g stroke="blue"><rect width="3" height="3"/></g>`,
      ),
    )
    expect(lines.map(({ color }) => color)).toEqual(['#e3001b', '#e3001b', '#00ff00', '#00ffff', '#0000ff'])
    expect(lines.map(({ dashed }) => dashed)).toEqual([false, true, false, false, false])
  })

  test('what is hidden, filled, a picture or text is no line, and told', () => {
    const { lines, findings } = read(
      page(
        `<g display="none">${line}</g><rect width="3" height="3" fill="red"/><image/><text>cut</text><clipPath>${line}</clipPath>`,
      ),
    )
    expect(lines.map(({ filled }) => filled)).toEqual([true])
    expect(findings.map(({ code }) => code)).toEqual(['lines-hidden', 'pictures-left-out', 'text-left-out'])
  })
})

describe('hostile and broken files', () => {
  test('entities stand for their text and cannot grow', () => {
    const { lines } = read(
      `<!DOCTYPE svg [<!ENTITY ink "#123456">]>${page('<path stroke="&ink;" d="M0 0h5"/>')}`,
    )
    expect(lines[0]!.color).toBe('#123456')
    // Entities made of entities: the inner ones stay text.
    const levels = Array.from({ length: 9 }, (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`)
    const bomb = `<!DOCTYPE svg [<!ENTITY e0 "haha">${levels.join('')}]>${page('<text>&e9;</text>')}`
    expect(read(bomb).lines).toEqual([])
    const wide = `<!DOCTYPE svg [<!ENTITY a "${'x'.repeat(1000)}">]>${page(`<text>${'&a;'.repeat(2000)}</text>`)}`
    expect(refused(wide)).toMatchObject({ code: 'xml-too-large' })
  })

  test('an entity of another file is not fetched', () => {
    const outside = `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${page('<text>&x;</text>')}`
    expect(read(outside).lines).toEqual([])
  })

  test('deep nesting, parts that use themselves, parts repeated without end', () => {
    expect(refused(page('<g>'.repeat(100_000)))).toMatchObject({ code: 'xml-too-large' })
    expect(read(page('<g id="a"><use href="#a"/></g>')).findings.map(({ code }) => code)).toEqual([
      'uses-left-out',
    ])
    const levels = Array.from(
      { length: 12 },
      (_, i) => `<g id="g${i + 1}">${`<use href="#g${i}"/>`.repeat(10)}</g>`,
    )
    expect(refused(page(`<g id="g0"/>${levels.join('')}`))).toMatchObject({ code: 'too-many-lines' })
  })

  test('numbers that are no numbers', () => {
    const { lines, findings } = read(
      page(
        `<path stroke="red" d="M0 0L10 NaN"/><path stroke="red" d="M0 0L1e300 5"/><path stroke="red" d="M0 0h5X"/>
         <line x1="a" x2="9" stroke="red"/><path stroke="red" transform="turn(3)" d="M0 0h5"/><path stroke="red" d=""/>`,
      ),
    )
    for (const { points } of lines) for (const p of points) expect(p.every(Number.isFinite)).toBe(true)
    expect(lines).toHaveLength(2)
    expect(findings).toMatchObject([{ code: 'shape-broken', where: expect.stringMatching(/^line \d/) }])
  })

  test('what is no SVG says so', () => {
    expect(refused('<html></html>')).toMatchObject({ code: 'not-svg' })
    expect(refused('')).toMatchObject({ code: 'xml-broken' })
    expect(refused('%PDF-1.7')).toMatchObject({ code: 'xml-broken' })
    expect(refused(page('<g>').slice(0, -6))).toMatchObject({ code: 'xml-broken', where: 'line 1' })
    expect(() => readSvg(new Uint8Array([0x1f, 0x8b, 8]), 'a.svgz')).toThrow('packed')
    expect(() => readSvg(new Uint8Array([0x3c, 0xff, 0xff]), 'a.svg')).toThrow('characters')
  })

  test('UTF-16 is read', () => {
    const text = `\ufeff${page(line)}`
    const bytes = new Uint8Array(2 * text.length)
    for (let i = 0; i < text.length; i++)
      new DataView(bytes.buffer).setUint16(2 * i, text.charCodeAt(i), true)
    expect(readSvg(bytes, 'a.svg').lines).toHaveLength(1)
  })
})
