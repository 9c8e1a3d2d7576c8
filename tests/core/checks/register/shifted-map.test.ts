import { expect, test } from 'vitest'
import { asDrawn, type GroupMotion } from '../../../../core/checks/register/groups.ts'
import { shiftedMap } from '../../../../core/checks/register/shifted-map.ts'
import { kappaScale, type MapPlane, type MaterialMap } from '../../../../core/material/map.ts'

const side = 480
const sideMm = 40
type Shape = (x: number, y: number) => boolean
const disc: Shape = (x, y) => Math.hypot(x - 18, y - 22) < 11

/** Share of a pixel in a shape, 8 × 8 places. */
function box(shape: Shape): Uint8Array {
  const data = new Uint8Array(side * side)
  const step = sideMm / side
  for (let row = 0, i = 0; row < side; row++)
    for (let column = 0; column < side; column++, i++) {
      let sum = 0
      for (let k = 0; k < 64; k++)
        if (shape((column + ((k & 7) + 0.5) / 8) * step, sideMm - (row + ((k >> 3) + 0.5) / 8) * step)) sum++
      data[i] = Math.round((255 * sum) / 64)
    }
  return data
}

const whole = box(disc)
const full = (data: Uint8Array): MapPlane => ({ layout: 'full', components: 1, data })
const tile = 32
const tiled: MapPlane = (() => {
  const across = Math.ceil(side / tile)
  const data = new Int16Array(across * across * tile * tile * 2)
  const index = Int32Array.from({ length: across * across }, (_, i) => i)
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      if (whole[y * side + x]! < 128) continue
      const block = Math.floor(y / tile) * across + Math.floor(x / tile)
      data[2 * (block * tile * tile + (y % tile) * tile + (x % tile))] = Math.round(kappaScale)
    }
  return { layout: 'tiles', components: 2, tile, index, data }
})()

const map: MaterialMap = {
  width: side,
  height: side,
  pixelsPerMm: side / sideMm,
  widthMm: sideMm,
  heightMm: sideMm,
  planes: new Map<string, MapPlane>([
    ['metal', full(new Uint8Array(side * side).fill(255))],
    ['C', full(whole)],
    ['white1', full(whole)],
    ['area', full(whole.map(v => (v > 127 ? 1 : 0)))],
    ['kappa', tiled],
  ]),
  whites: [{ name: 'white', coverage: 'white1', opacity: 0.6, hits: 1, assumed: false }],
  spots: [],
  varnish: null,
  gratings: [{ name: 'g', kappa: 'kappa', spread: 'spread', relief: 'relief' }],
  grooves: [],
  areas: [],
}

test('a map that nothing moves keeps its planes', () => {
  const { planes } = shiftedMap(map, { white: asDrawn })
  for (const [name, plane] of map.planes) expect(planes.get(name)).toBe(plane)
})

test.each<[string, GroupMotion]>([
  ['moved', { ...asDrawn, dxMm: 0.43, dyMm: -0.22 }],
  ['turned', { ...asDrawn, dxMm: -0.3, turn: 0.03 }],
  ['stretched', { ...asDrawn, dyMm: 0.3, stretchX: 1.02, stretchY: 0.99 }],
])('white that slipped in the map shows as much as in counted places, within 1 %: %s', (_, motion) => {
  const { planes } = shiftedMap(map, { white: motion })
  const white = planes.get('white1')!.data
  const ink = planes.get('C')!.data
  expect(ink).toBe(map.planes.get('C')!.data)
  const pixel = (sideMm / side) ** 2
  let [shown, bare] = [0, 0]
  for (let i = 0; i < white.length; i++) {
    shown += (Math.max(0, white[i]! - ink[i]!) / 255) * pixel
    bare += (Math.max(0, ink[i]! - white[i]!) / 255) * pixel
  }
  const [c, s] = [Math.cos(-motion.turn), Math.sin(-motion.turn)]
  const slipped: Shape = (x, y) => {
    const [dx, dy] = [x - sideMm / 2 - motion.dxMm, y - sideMm / 2 - motion.dyMm]
    return disc(
      sideMm / 2 + (c * dx - s * dy) / motion.stretchX,
      sideMm / 2 + (s * dx + c * dy) / motion.stretchY,
    )
  }
  const step = 0.02
  let [shownTrue, bareTrue] = [0, 0]
  for (let x = step / 2; x < sideMm; x += step)
    for (let y = step / 2; y < sideMm; y += step) {
      const [before, after] = [disc(x, y), slipped(x, y)]
      if (after && !before) shownTrue += step * step
      if (before && !after) bareTrue += step * step
    }
  expect(Math.abs(shown / shownTrue - 1)).toBeLessThan(0.01)
  expect(Math.abs(bare / bareTrue - 1)).toBeLessThan(0.01)
})

test('areas and gratings move with the holography, and gratings turn', () => {
  const turn = 0.1
  const { planes } = shiftedMap(map, { holography: { ...asDrawn, turn } })
  const kappa = planes.get('kappa')!
  if (kappa.layout !== 'tiles') throw new TypeError('expected tiles')
  const angles = new Set<number>()
  let count = 0
  for (let i = 0; i < kappa.data.length; i += 2)
    if (kappa.data[i] !== 0) {
      count++
      angles.add(Math.atan2(kappa.data[i + 1]!, kappa.data[i]!))
    }
  const [angle, ...others] = [...angles]
  expect(others).toEqual([])
  // One step of the plane's numbers.
  expect(Math.abs(angle! - turn)).toBeLessThan(1 / kappaScale)
  const area = planes.get('area')!.data
  expect(area.filter(id => id !== 0).length).toBe(count)
  expect(Math.abs(count / (Math.PI * (11 * 12) ** 2) - 1)).toBeLessThan(0.005)
  expect(planes.get('white1')).toBe(map.planes.get('white1'))
})
