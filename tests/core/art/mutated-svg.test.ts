import { expect, test } from 'vitest'
import { paintPage } from '../../../core/art/ink/raster.ts'
import { readSvgPage } from '../../../core/art/svg.ts'
import { memorySource } from '../../../core/base/source.ts'
import { cutOff } from '../../support/alone.ts'
import { surviveAll } from '../../support/survive.ts'

/** Reads the drawing and paints it small. */
async function readWhole(bytes: Uint8Array): Promise<void> {
  const page = await readSvgPage(memorySource('art.svg', bytes))
  const scale = 64 / Math.max(page.widthMm, page.heightMm)
  const pixels = (mm: number): number => Math.max(1, Math.round(mm * scale))
  paintPage(page, { widthPx: pixels(page.widthMm), heightPx: pixels(page.heightMm) })
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text)
const head = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
const away = 'http://203.0.113.7/art'
/** One pixel, PNG, from memory. */
const dot =
  'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=='

/** Drawings with what drawings have. */
const drawings = {
  shapes: `<svg ${head} width="90mm" height="60mm" viewBox="0 0 900 600"><g id="Holo" transform="translate(20 10) rotate(12) scale(1.1 -0.9) skewX(4)"><path d="M10 10h90v40l-20,30C50 60 40 20 10 90S1 2 3 4Q5 6 7 8T9 9A30 20 15 1 0 90 90z" fill="#c33" fill-rule="evenodd"/><rect x="120" y="20" width="60" height="40" rx="8" fill="hsl(210 50% 40%)" stroke="black" stroke-width="3" stroke-dasharray="4 2"/><circle cx="300" cy="60" r="40"/><ellipse cx="400" cy="60" rx="40" ry="20" fill="none" stroke="rgb(10,200,30)"/><polygon points="500,10 560,80 440,80"/><polyline points="1,1 2,3 9,4" fill="none" stroke="red" stroke-linejoin="round"/><line x1="0" y1="0" x2="50" y2="9" stroke="blue"/></g></svg>`,
  references: `<svg ${head} width="200pt" height="100pt"><defs><linearGradient id="a" x2="1"><stop offset="0" stop-color="gold"/><stop offset="1" stop-color="navy" stop-opacity="0.4"/></linearGradient><radialGradient id="b" xlink:href="#a" cx="40%" gradientUnits="objectBoundingBox"/><clipPath id="c"><circle cx="60" cy="50" r="40"/></clipPath><mask id="m"><rect width="200" height="100" fill="white" opacity="0.5"/></mask><symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><pattern id="p" width="8" height="8" patternUnits="userSpaceOnUse"><circle cx="4" cy="4" r="3"/></pattern><style>.k{fill:url(#p);stroke:none} #z{opacity:.5}</style></defs><g inkscape:label="White" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" clip-path="url(#c)"><rect width="120" height="90" fill="url(#a)"/></g><use xlink:href="#s" x="130" y="10" width="40" height="40" fill="url(#b)"/><rect class="k" id="z" x="10" y="60" width="90" height="30" mask="url(#m)"/><marker id="h" orient="auto" refX="2" refY="2"><path d="M0 0L4 2L0 4z"/></marker><path d="M5 95L30 92A9 9 0 0 1 60 95" stroke="red" marker-start="url(#h)" marker-mid="url(#h)" marker-end="url(#h)"/></svg>`,
  pictures: `<svg ${head} width="3in" height="2in" viewBox="0 0 300 200"><image x="10" y="10" width="80" height="80" xlink:href="${dot}"/><text x="20" y="150" font-size="24">Comet <tspan dx="4">12</tspan></text></svg>`,
} as const

/** Drawings that try to fetch, to run or to grow without end. */
const hostile = {
  'an external image': `<svg ${head} width="9mm" height="9mm"><image width="9" height="9" href="${away}.png"/><image width="9" height="9" xlink:href="file:///etc/passwd"/><rect width="9" height="9"/></svg>`,
  'external uses, fonts and styles': `<svg ${head} width="9mm" height="9mm"><?xml-stylesheet href="${away}.css"?><style>@import url(${away}.css);@font-face{font-family:x;src:url(${away}.woff)}rect{fill:url(${away}.svg#g)}</style><use href="${away}.svg#a"/><rect width="9" height="9" filter="url(${away}.svg#f)"/></svg>`,
  'scripts and handlers': `<svg ${head} width="9mm" height="9mm" onload="fetch('${away}')"><script>fetch('${away}')</script><script href="${away}.js"/><a href="javascript:alert(1)"><rect width="9" height="9" onclick="alert(1)"/></a><foreignObject width="9" height="9"><iframe xmlns="http://www.w3.org/1999/xhtml" src="${away}"/></foreignObject></svg>`,
  'external entities': `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd"><!ENTITY % p SYSTEM "${away}.dtd">]><svg ${head} width="9mm" height="9mm"><text>&x;</text><rect width="9" height="9"/></svg>`,
  'entities of entities': `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]><svg ${head} width="9mm" height="9mm"><text>&c;</text><rect width="9" height="9"/></svg>`,
  'a use of itself': `<svg ${head} width="9mm" height="9mm"><g id="a"><rect width="9" height="9"/><use href="#a"/></g></svg>`,
} as const

const words = [
  '<',
  '>',
  '/>',
  '"',
  '&',
  '<!--',
  '-->',
  '<![CDATA[',
  '</svg>',
  '<g>',
  '</g>',
  '<use href="#a"/>',
  'NaN',
  '1e400',
  '%',
  'transform="matrix(0 0 0 0 0 0)"',
  'd="M0 0A0 0 0 0 0 1 1"',
  '<!DOCTYPE x [<!ENTITY a "b">]>',
  'url(#a)',
  '\u0000',
  'width="0"',
]

test('400 damaged drawings are read or refused by name, soon, within bounds, and reach for nothing', async () => {
  const tried = cutOff()
  const seeds = [...Object.values(drawings), ...Object.values(drawings), ...Object.values(hostile)].map(
    bytesOf,
  )
  const { read, refused, longest, grown } = await surviveAll('art.svg', seeds, 400, words, readWhole)
  console.log(
    `SVG: ${read} read, refused: ${JSON.stringify(Object.fromEntries(refused))}, longest ${Math.round(longest)} ms, ${Math.round(grown / 1e6)} MB`,
  )
  expect(tried()).toBe(0)
  expect(read).toBeGreaterThan(40)
  expect([...refused.values()].reduce((sum, one) => sum + one, 0)).toBeGreaterThan(40)
  expect(longest).toBeLessThan(10_000)
  expect(grown).toBeLessThan(1e9)
})

test('what tries to fetch or to run is left alone and said, and the art beside it is read', async () => {
  const tried = cutOff()
  const found = await Promise.all(
    Object.entries(hostile).map(async ([name, text]) => {
      const { marks, findings, inexact } = await readSvgPage(memorySource('art.svg', bytesOf(text)))
      const codes = new Set([...findings, ...inexact].map(({ code }) => code))
      // That a drawing without a viewBox is taken at its size is no part of this.
      codes.delete('unit-assumed')
      const values = marks.flatMap(mark => (mark.kind === 'group' ? [] : (mark.text?.value ?? [])))
      return [name, marks.length > 0, [...codes].join(' '), values.join(' ').includes('root:')] as const
    }),
  )
  expect(found).toEqual([
    ['an external image', true, 'svg-external', false],
    ['external uses, fonts and styles', false, 'svg-external', false],
    ['scripts and handlers', true, 'svg-script svg-foreign', false],
    ['external entities', true, 'svg-text', false],
    ['entities of entities', true, 'svg-text', false],
    ['a use of itself', true, 'svg-broken', false],
  ])
  expect(tried()).toBe(0)
})
