import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { encode } from 'fast-png'
import { describe, expect, it } from 'vitest'
import type { InkPage } from '../../../core/art/ink/page.ts'
import { paintPage } from '../../../core/art/ink/raster.ts'
import { readSvgPage } from '../../../core/art/svg.ts'
import { decodePng } from '../../../core/base/png.ts'
import { memorySource } from '../../../core/base/source.ts'
import { hasTool } from '../../support/tools.ts'

const svg = (body: string, attributes = 'width="40mm" height="30mm" viewBox="0 0 40 30"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${body}</svg>`

const read = (text: string): Promise<InkPage> =>
  readSvgPage(memorySource('art.svg', new TextEncoder().encode(text)))

/** Red, green, blue over white, 0..255, of pixels that are 1 / perMm wide. */
async function painted(text: string, perMm = 4) {
  const page = await read(text)
  const width = Math.round(page.widthMm * perMm)
  const planes = paintPage(page, { widthPx: width, heightPx: Math.round(page.heightMm * perMm) })
  return {
    page,
    /** Of the pixel at a place in mm from the upper left corner. */
    at: (x: number, y: number) =>
      planes.inks.map(ink => 255 - ink[Math.floor(y * perMm) * width + Math.floor(x * perMm)]!),
    shape: (x: number, y: number) => planes.shape[Math.floor(y * perMm) * width + Math.floor(x * perMm)]!,
  }
}

const boxOf = ({ marks }: InkPage, i = 0) => {
  const mark = marks[i]!
  if (mark.kind !== 'fill') throw new Error('expected a fill')
  const xs = [...mark.path.points].filter((_, k) => k % 2 === 0)
  const ys = [...mark.path.points].filter((_, k) => k % 2 === 1)
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
    v => Math.round(v * 1e6) / 1e6,
  )
}

describe('sizes of a drawing', () => {
  it.each([
    ['mm', 'width="40mm" height="30mm" viewBox="0 0 40 30"', 40, 30, [10, 15, 30, 20]],
    [
      'pt',
      'width="144pt" height="72pt" viewBox="0 0 144 72"',
      50.8,
      25.4,
      [3.527778, 16.933333, 10.583333, 21.872222],
    ],
    [
      'in, another viewBox',
      'width="2in" height="1in" viewBox="-10 -10 80 40"',
      50.8,
      25.4,
      [12.7, 9.525, 25.4, 12.7],
    ],
    ['px without a viewBox', 'width="96" height="96"', 25.4, 25.4, [2.645833, 18.785417, 7.9375, 22.754167]],
  ] as const)('%s', async (unit, attributes, width, height, box) => {
    const [x, y, w, h] =
      unit === 'mm'
        ? [10, 10, 20, 5]
        : unit === 'pt'
          ? [10, 10, 20, 14]
          : unit === 'px without a viewBox'
            ? [10, 10, 20, 15]
            : [10, 10, 20, 5]
    const page = await read(svg(`<rect x="${x}" y="${y}" width="${w}" height="${h}"/>`, attributes))
    expect([page.widthMm, page.heightMm].map(v => Math.round(v * 1e6) / 1e6)).toEqual([width, height])
    expect(boxOf(page)).toEqual(box.map(v => Math.round(v * 1e6) / 1e6))
  })

  it('transforms and arcs: a circle turned and moved stays one, in mm', async () => {
    const page = await read(
      svg('<g transform="translate(20 10) rotate(30)"><path d="M-5 0A5 5 0 0 1 5 0A5 5 0 0 1 -5 0Z"/></g>'),
    )
    const mark = page.marks[0]!
    if (mark.kind !== 'fill') throw new Error('expected a fill')
    // Ends of the quarters lie on the circle around (20, 20 from below) with radius 5.
    const { points } = mark.path
    expect(Math.hypot(points[0]! - 20, points[1]! - 20)).toBeCloseTo(5, 9)
    expect(points[0]).toBeCloseTo(20 - 5 * Math.cos(Math.PI / 6), 9)
    expect(points[1]).toBeCloseTo(20 + 5 * Math.sin(Math.PI / 6), 9)
  })
})

describe('layers of a drawing', () => {
  it('are its named groups and outermost named shapes; hidden ones stay, hidden', async () => {
    const page = await read(
      `<svg xmlns="http://www.w3.org/2000/svg" xmlns:x="urn:x" width="40mm" height="30mm" viewBox="0 0 40 30">
        <g id="layer1" x:label="Holography"><g id="g12"><rect width="4" height="4"/></g><g id="comet"><rect width="2" height="2"/></g></g>
        <g id="White_x20_1" display="none"><rect width="5" height="5" fill="#fff"/></g>
        <g><title>Die</title><path d="M0 0H4" stroke="red" fill="none"/></g>
        <rect id="rect7" width="1" height="1"/><rect id="Varnish" width="1" height="1"/>
        <g id="White_x20_1"><rect width="5" height="5"/></g>
      </svg>`,
    )
    expect(page.layers.map(l => [l.id, l.name, l.parent, l.visible])).toEqual([
      ['Holography', 'Holography', null, true],
      ['comet', 'comet', 0, true],
      ['White 1', 'White 1', null, false],
      ['Die', 'Die', null, true],
      ['Varnish', 'Varnish', null, true],
      ['White 1 2', 'White 1', null, true],
    ])
    expect(page.marks.map(m => m.layer)).toEqual([0, 1, 2, 3, null, 4, 5])
  })

  it('what is hidden and in no layer is left out, and that is said', async () => {
    const page = await read(
      svg('<rect width="4" height="4" visibility="hidden"/><circle r="3" style="display:none"/>'),
    )
    expect(page.marks).toEqual([])
    expect(page.findings.map(f => f.code)).toEqual(['svg-hidden', 'svg-hidden'])
  })
})

describe('paint of a drawing', () => {
  it('colours of every spelling', async () => {
    const colours = [
      '#f80',
      '#ff880080',
      'rgb(255, 136, 0)',
      'rgb(100% 50% 0% / 50%)',
      'orange',
      'hsl(120, 100%, 25%)',
      'device-cmyk(0 0.5 1 0)',
      'currentColor',
      '#123456 icc-color(press, 1, 0, 0, 0)',
    ]
    const page = await read(
      svg(`<g color="#00f">${colours.map(one => `<rect width="1" height="1" fill="${one}"/>`).join('')}</g>`),
    )
    const values = page.marks.map(m =>
      m.kind === 'fill' && m.paint.kind === 'tints'
        ? [...m.paint.values.map(v => Math.round(255 * (1 - v))), Number(m.alpha.toFixed(2))]
        : [],
    )
    expect(values).toEqual([
      [255, 136, 0, 1],
      [255, 136, 0, 0.5],
      [255, 136, 0, 1],
      [255, 128, 0, 0.5],
      [255, 165, 0, 1],
      [0, 128, 0, 1],
      [255, 128, 0, 1],
      [0, 0, 255, 1],
      [18, 52, 86, 1],
    ])
  })

  it('a style sheet, classes and own styles; rules that are passed over are said', async () => {
    const { at, page } = await painted(
      svg(
        '<style>.a{fill:#f00} #b{fill:#0f0} g > rect{fill:#000}</style><rect class="a" width="10" height="10"/><rect id="b" class="a" x="10" width="10" height="10"/><rect style="fill:#00f" class="a" x="20" width="10" height="10"/>',
      ),
    )
    expect([at(5, 5), at(15, 5), at(25, 5)]).toEqual([
      [255, 0, 0],
      [0, 255, 0],
      [0, 0, 255],
    ])
    expect(page.findings.map(f => f.code)).toEqual(['svg-rules'])
  })

  it('opacity of a group counts once, of its members each', async () => {
    const two = '<rect width="20" height="20"/><rect x="10" width="20" height="20"/>'
    const together = await painted(svg(`<g opacity="0.5">${two}</g>`))
    expect([together.at(5, 5), together.at(15, 5)].map(c => c[0]!)).toEqual([
      expect.closeTo(127.5, -0.5),
      expect.closeTo(127.5, -0.5),
    ])
    const each = await painted(svg(`<g fill-opacity="0.5">${two}</g>`))
    expect(Math.abs(each.at(15, 5)[0]! - 64)).toBeLessThanOrEqual(1)
  })

  it('a clip path of one shape, of two that overlap, and one in the box of what it cuts', async () => {
    const one = await painted(
      svg(
        '<clipPath id="c"><circle cx="20" cy="15" r="5"/></clipPath><rect width="40" height="30" clip-path="url(#c)"/>',
      ),
    )
    expect([one.shape(20, 15), one.shape(14, 15), one.shape(23, 18)]).toEqual([255, 0, 255])
    const union = await painted(
      svg(
        '<clipPath id="c"><path d="M0 0H20V20H0Z"/><path d="M10 0V20H30V0Z"/></clipPath><rect width="40" height="30" clip-path="url(#c)"/>',
      ),
    )
    expect([5, 15, 25, 35].map(x => union.shape(x, 10))).toEqual([255, 255, 255, 0])
    const boxed = await painted(
      svg(
        '<clipPath id="c" clipPathUnits="objectBoundingBox"><rect width="0.5" height="1" fill="none"/></clipPath><rect x="10" width="20" height="30" clip-path="url(#c)"/>',
      ),
    )
    expect([boxed.shape(15, 10), boxed.shape(25, 10)]).toEqual([255, 0])
  })

  it('a mask by its luminance and by its opacity', async () => {
    const light = await painted(
      svg(
        '<mask id="m"><rect width="20" height="30" fill="#fff"/><rect x="20" width="20" height="30" fill="#808080"/></mask><rect width="40" height="30" mask="url(#m)"/>',
      ),
    )
    expect(light.shape(10, 10)).toBe(255)
    expect(Math.abs(light.shape(30, 10) - 128)).toBeLessThanOrEqual(1)
    const alpha = await painted(
      svg(
        '<mask id="m" mask-type="alpha"><rect width="20" height="30" fill="#000" fill-opacity="0.25"/></mask><rect width="40" height="30" mask="url(#m)"/>',
      ),
    )
    expect(Math.abs(alpha.shape(10, 10) - 64)).toBeLessThanOrEqual(1)
    expect(alpha.shape(30, 10)).toBe(0)
  })

  it('pictures inside the file are drawn; those outside are named and not fetched', async () => {
    const data = Uint8Array.from([255, 0, 0, 0, 255, 0, 0, 0, 255, 255, 255, 255])
    const address = `data:image/png;base64,${Buffer.from(encode({ width: 2, height: 2, channels: 3, data })).toString('base64')}`
    const { at } = await painted(
      svg(`<image x="10" y="5" width="20" height="20" xlink:href="${address}" image-rendering="pixelated"/>`),
    )
    expect([at(12, 7), at(28, 7), at(12, 23), at(28, 23), at(5, 5)]).toEqual([
      [255, 0, 0],
      [0, 255, 0],
      [0, 0, 255],
      [255, 255, 255],
      [255, 255, 255],
    ])
    const outside = await read(
      svg(
        '<image width="9" height="9" href="https://example.org/sky.jpg"/><use href="other.svg#star"/><style>@import url(fonts.css);</style><rect width="3" height="3" fill="url(more.svg#g)"/>',
      ),
    )
    expect(outside.inexact.map(f => f.message).join('\n')).toMatch(
      /sky\.jpg(.|\n)*other\.svg#star(.|\n)*more\.svg#g/,
    )
    expect(outside.inexact.every(f => f.code === 'svg-external' && f.severity === 'error')).toBe(true)
    expect(outside.marks).toEqual([])
  })

  it('live type is named with its font and keeps its words and place', async () => {
    const page = await read(
      svg(
        '<text x="10" y="20" font-family="Halden Sans, serif" font-size="4">Eyepiece <tspan x="10" dy="5">25 mm</tspan></text>',
      ),
    )
    expect(page.inexact.map(f => [f.code, f.message])).toEqual([
      [
        'svg-text',
        'the text "Eyepiece 25 mm" is live type: its letters are not in the file, so that nothing of it is drawn: font "Halden Sans"',
      ],
    ])
    const [mark] = page.marks
    expect(mark).toMatchObject({
      alpha: 0,
      text: { value: 'Eyepiece 25 mm', fontName: 'Halden Sans', sizeMm: 4 },
    })
    const [left, low, , high] = boxOf(page)
    expect([left, high, low]).toEqual([10, 13, 4])
  })
})

describe('a drawing that cannot be read', () => {
  it.each([
    ['no XML', 'not a drawing', 'xml-broken'],
    ['another language', '<html/>', 'not-svg'],
    ['groups within groups without end', svg(`${'<g>'.repeat(300)}${'</g>'.repeat(300)}`), 'xml-too-large'],
    [
      'repeats that multiply',
      svg(
        `<defs><path id="a" d="M0 0${'l1 1'.repeat(4000)}"/>${Array.from({ length: 12 }, (_, i) => `<g id="${String.fromCharCode(98 + i)}">${`<use href="#${String.fromCharCode(97 + i)}"/>`.repeat(10)}</g>`).join('')}</defs><use href="#m"/>`,
      ),
      'svg-too-large',
    ],
  ])('%s', async (_, text, code) => {
    await expect(read(text)).rejects.toMatchObject({ name: 'BadInput', code })
  })

  it('values that mean nothing are said or passed over, whatever they stand in', async () => {
    const whole = svg(Object.values(drawings).join(''))
    const places = [...whole.matchAll(/="([^"]*)"/g)].slice(2)
    const words = fc.constantFrom(
      ...[
        '1e309',
        '-1',
        'NaN',
        '',
        '#s',
        '#',
        'url(#g)',
        'url(#p)',
        'url(#m)',
        'url(#c)',
        '50%',
        '1e-300',
        '-1e30',
      ],
      ...[
        'objectBoundingBox',
        'userSpaceOnUse',
        'none',
        'reflect',
        'matrix(0 0 0 0 0 0)',
        'M0 0L1e9 1e9A1 1 0 0 1 1e300 0',
      ],
    )
    const change = fc.tuple(fc.integer({ min: 0, max: places.length - 1 }), words)
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 4 }), async changes => {
        let text = whole
        // From the end, so that places before stay where they are.
        for (const [place, word] of [...new Map(changes)].toSorted(([a], [b]) => b - a)) {
          const { index, 1: value } = places[place]!
          text = text.slice(0, index + 2) + word + text.slice(index + 2 + value!.length)
        }
        const page = await read(text)
        paintPage(page, { widthPx: 40, heightPx: 30 })
      }),
      { numRuns: 150 },
    )
  })

  it('what uses itself is said and left out', async () => {
    const page = await read(
      svg(
        '<g id="a"><rect width="1" height="1"/><use href="#a"/></g><pattern id="p" width="1" height="1"><rect width="1" height="1" fill="url(#p)"/></pattern><rect width="4" height="4" fill="url(#p)"/><mask id="m"><rect width="4" height="4" mask="url(#m)"/></mask><rect width="4" height="4" mask="url(#m)"/>',
      ),
    )
    expect(page.findings.map(f => f.code)).toContain('svg-broken')
  })

  it('a marker takes the colour of its line, stands the other way at its start, and never on itself', async () => {
    const { page, at } = await painted(
      svg(
        '<marker id="m" markerUnits="userSpaceOnUse" markerWidth="4" markerHeight="4" refY="2" orient="auto-start-reverse"><path d="M0 0H4V4H0z" fill="context-stroke" stroke="red" stroke-width="0" marker-end="url(#m)"/></marker><path d="M10 15H30" stroke="#0f0" marker-start="url(#m)" marker-end="url(#m)"/><rect x="1" y="1" width="3" height="3" marker-end="url(#m)"/>',
      ),
    )
    expect([at(8, 15), at(8, 13.5), at(32, 16), at(12, 13.5)]).toEqual([
      [0, 255, 0],
      [0, 255, 0],
      [0, 255, 0],
      [255, 255, 255],
    ])
    expect(page.findings.map(f => f.code)).toEqual(['svg-broken'])
    expect(page.inexact).toEqual([])
  })

  it('entities are text and never files', async () => {
    const text = `<!DOCTYPE svg [<!ENTITY secret SYSTEM "file:///etc/passwd"><!ENTITY red "#f00">]>${svg('<rect width="4" height="4" fill="&red;"/><text>&secret;</text>')}`
    const { page, at } = await painted(text)
    expect(at(2, 2)).toEqual([255, 0, 0])
    expect(JSON.stringify(page.inexact)).not.toMatch(/root:/)
  })
})

/** Drawings that an independent renderer draws as well: what each shows is said by its name. */
const drawings: Readonly<Record<string, string>> = {
  shapes:
    '<rect x="3" y="3" width="12" height="9" rx="3" fill="#c33"/><ellipse cx="28" cy="9" rx="8" ry="5" fill="#36c"/><polygon points="4,28 12,16 20,28" fill="#393"/><path d="M24 26C26 14 34 14 36 26S30 30 24 26Z" fill="#963"/>',
  rules:
    '<path d="M5 5H35V25H5ZM12 10H28V20H12Z" fill-rule="evenodd" fill="#333"/><path d="M1 1H4V4H1ZM2 2H3V3H2Z" fill="#900"/>',
  strokes:
    '<path d="M4 26L12 6L20 26" fill="none" stroke="#c33" stroke-width="3" stroke-linejoin="round" stroke-linecap="square"/><path d="M24 6H36V24" fill="none" stroke="#36c" stroke-width="2" stroke-dasharray="5 2" stroke-linecap="butt" stroke-linejoin="bevel"/>',
  'linear gradient on the box':
    '<linearGradient id="g" x1="0" y1="0" x2="1" y2="1"><stop offset="0.1" stop-color="#f00"/><stop offset="0.5" stop-color="#ff0"/><stop offset="1" stop-color="#00f" stop-opacity="0.5"/></linearGradient><rect x="4" y="4" width="32" height="22" fill="url(#g)"/>',
  'linear gradient on the page, reflected, turned':
    '<linearGradient id="g" gradientUnits="userSpaceOnUse" x1="10" y1="0" x2="20" y2="0" spreadMethod="reflect" gradientTransform="rotate(20)"><stop offset="0" stop-color="#063"/><stop offset="1" stop-color="#fc0"/></linearGradient><rect x="4" y="4" width="32" height="22" fill="url(#g)"/>',
  'radial gradient with a focus':
    '<radialGradient id="a"><stop offset="0" stop-color="#fff"/><stop offset="1" stop-color="#036"/></radialGradient><radialGradient id="g" xlink:href="#a" cx="0.5" cy="0.5" r="0.6" fx="0.3" fy="0.35"/><rect x="4" y="4" width="32" height="22" fill="url(#g)"/>',
  pattern:
    '<pattern id="p" width="8" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(15)"><rect width="8" height="6" fill="#eef"/><circle cx="4" cy="3" r="2" fill="#c33"/></pattern><rect x="4" y="4" width="32" height="22" fill="url(#p)"/>',
  'use, symbol and a drawing within':
    '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10" fill="#ccc"/><circle cx="5" cy="5" r="4" fill="#963"/></symbol><use xlink:href="#s" x="2" y="2" width="14" height="10"/><g id="t"><rect x="20" y="3" width="6" height="4" fill="#36c"/></g><use xlink:href="#t" y="8"/><svg x="28" y="10" width="10" height="16" viewBox="0 0 20 20" preserveAspectRatio="xMinYMax slice"><rect width="20" height="20" fill="#393"/><path d="M0 20L20 0" stroke="#fff" stroke-width="3"/></svg>',
  'groups, opacity and blending':
    '<rect width="40" height="30" fill="#fc9"/><g opacity="0.6"><rect x="4" y="4" width="20" height="14" fill="#03c"/><rect x="14" y="10" width="20" height="14" fill="#c00"/></g><rect x="8" y="18" width="24" height="9" fill="#0a0" fill-opacity="0.4"/><circle cx="20" cy="15" r="8" fill="#888" style="mix-blend-mode:multiply"/>',
  markers:
    '<marker id="a" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="5" markerHeight="5" orient="auto"><path d="M0 0L10 5L0 10z" fill="#c33"/></marker><marker id="d" markerWidth="3" markerHeight="3" refX="1.5" refY="1.5" markerUnits="userSpaceOnUse" orient="30"><rect width="3" height="3" fill="#36c"/></marker><path d="M4 24L12 8L20 24H30" fill="none" stroke="#333" marker-start="url(#d)" marker-mid="url(#d)" marker-end="url(#a)"/><polyline points="6,4 18,4" fill="none" stroke="#393" stroke-width="0.8" marker-end="url(#a)"/><path d="M24 6A5 5 0 0 1 34 6A5 5 0 0 1 24 6z" fill="none" stroke="#963" stroke-width="0.6" marker-mid="url(#d)" marker-end="url(#a)"/>',
  'clip and mask':
    '<clipPath id="c"><path d="M20 3L36 27H4Z"/></clipPath><mask id="m" maskContentUnits="objectBoundingBox"><rect width="1" height="1" fill="#fff"/><rect x="0.25" y="0.25" width="0.5" height="0.5" fill="#444"/></mask><g clip-path="url(#c)"><rect width="40" height="30" fill="#369" mask="url(#m)"/></g>',
}

describe.skipIf(!hasTool('vips', '--version'))('drawings that an independent renderer draws as well', () => {
  it.each(Object.keys(drawings))('%s', async name => {
    const folder = mkdtempSync(join(tmpdir(), 'svg-'))
    try {
      const text = svg(`<rect width="40" height="30" fill="#fff"/>${drawings[name]}`)
      writeFileSync(join(folder, 'a.svg'), text)
      const perMm = 8
      execFileSync('vips', [
        'svgload',
        join(folder, 'a.svg'),
        join(folder, 'a.png'),
        '--dpi',
        String(25.4 * perMm),
      ])
      const seen = decodePng(new Uint8Array(readFileSync(join(folder, 'a.png'))))
      expect([seen.width, seen.height]).toEqual([320, 240])
      const page = await read(text)
      const planes = paintPage(page, { widthPx: 320, heightPx: 240 })
      let sum = 0
      let far = 0
      for (let i = 0; i < 320 * 240; i++)
        for (let c = 0; c < 3; c++) {
          const off = Math.abs(255 - planes.inks[c]![i]! - seen.data[i * seen.channels + c]!)
          sum += off
          if (off > 24) far++
        }
      // Edges are smoothed by each in its own way.
      expect(sum / (320 * 240 * 3)).toBeLessThan(0.6)
      expect(far).toBeLessThan(320 * 240 * 3 * 0.004)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})
