import { describe, expect, it } from 'vitest'
import { areaPicture } from '../../../core/export/area-picture.ts'
import type { MaterialMap } from '../../../core/material/map.ts'

/** Two areas: a frame of 1 around a hole of nothing, and a spot of 2 in it. */
const side = 8
const ids = Uint8Array.from({ length: side * side }, (_, i) => {
  const [x, y] = [i % side, Math.floor(i / side)]
  if (x >= 3 && x < 5 && y >= 3 && y < 5) return 2
  return x >= 2 && x < 6 && y >= 2 && y < 6 ? 0 : 1
})
const map = {
  width: side,
  height: side,
  pixelsPerMm: 0.1,
  widthMm: 80,
  heightMm: 80,
  planes: new Map([['area', { layout: 'full', components: 1, data: ids }]]),
  whites: [],
  spots: [],
  varnish: null,
  gratings: [],
  grooves: [],
  areas: [
    { id: 1, name: 'Frame <of> stars', layerId: 'a', effect: 'plain' },
    { id: 2, name: 'Comet', layerId: 'b', effect: 'aurora' },
  ],
} as unknown as MaterialMap

/** Area within the paths of an SVG path of straight lines, even-odd for nested loops of opposite turn. */
function enclosed(path: string): number {
  return path
    .split('Z')
    .filter(loop => loop !== '')
    .reduce((sum, loop) => {
      const points = loop
        .slice(1)
        .split('L')
        .map(point => point.split(' ').map(Number) as [number, number])
      return (
        sum +
        points.reduce((part, [x, y], i) => {
          const [px, py] = points.at(i - 1)!
          return part + (px * y - x * py) / 2
        }, 0)
      )
    }, 0)
}

describe('a flat picture of the areas', () => {
  const svg = areaPicture(map, 'Eyepiece carton')
  const paths = [...svg.matchAll(/<path d="([^"]+)"/g)].map(([, path]) => path!)

  it('draws each area as large as it is, holes left out', () => {
    // 64 cells less 16, and 4, of 100 mm² each.
    expect(paths.map(enclosed)).toEqual([4800, 400])
  })

  it('has a legend in words, with names as words only', () => {
    expect(svg).toContain('Frame &lt;of&gt; stars')
    expect(svg).toContain('Plain rainbow, 4800 mm²')
    expect(svg).toContain('unknown effect “aurora”, shown as plain foil, 400 mm²')
    expect(svg).not.toMatch(/<(script|image|foreignObject)/)
    // Two numbers on the picture and two in the legend.
    expect([...svg.matchAll(/>([12])<\/text>/g)].map(([, number]) => number)).toEqual(['1', '2', '1', '2'])
  })

  it('says so where there is none', () => {
    expect(areaPicture({ ...map, areas: [] }, 'Bare')).toContain('No area carries holography.')
  })
})
