import { expect, test } from 'vitest'
import { panelFlashes } from '../../renderer/state/flashes.ts'

const pose = (azimuthDeg: number) => ({ azimuthDeg, elevationDeg: 50, distanceMm: 500, diameterMm: 20 })
const lamp = (azimuthDeg: number) => ({ name: '', pose: pose(azimuthDeg), form: { kind: 'disc' } as const })
const eyes = [
  { sideDeg: -20, riseDeg: 0 },
  { sideDeg: 0, riseDeg: 0 },
  { sideDeg: 20, riseDeg: 0 },
]
const none = Number.NaN
const map = {
  panels: ['front', 'back'],
  lamps: [lamp(0), lamp(90)],
  eyes,
  seen: new Float32Array(12),
  luminance: new Float32Array(12),
  // Panel by panel, lamp by lamp, eye by eye.
  most: Float32Array.of(none, 0.5, 1.5, 4, 30, 2, none, none, none, none, none, none),
}

test('each lamp place has its light from the nearest eye place, and the brightest is of all lamp and eye places', () => {
  const [front, back] = panelFlashes(map, { sideDeg: 14, riseDeg: 3 })
  expect(front!.lamps.map(({ most, eye, pose: at }) => [most, eye.sideDeg, at.azimuthDeg])).toEqual([
    [1.5, 20, 0],
    [2, 20, 90],
  ])
  expect(panelFlashes(map, eyes[0]!)[0]!.lamps.map(({ most }) => most)).toEqual([none, 4])
  expect(front!.brightest).toMatchObject({ most: 30, pose: { azimuthDeg: 90 }, eye: { sideDeg: 0 } })
  expect(back!.brightest).toBeNull()
  // Of five places that see it 4, 30 and 2 times paper are flashes.
  expect(front!.flashing).toBeCloseTo(3 / 5, 12)
  expect(back!.flashing).toBeNaN()
})
