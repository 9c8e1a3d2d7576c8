import { expect, test } from 'vitest'
import { artChange } from '../../../core/art/art-change.ts'
import type { Art } from '../../../core/art/layer.ts'
import { plainLayer } from '../../../core/art/plain-layer.ts'
import { plainArt } from '../../support/job.ts'

const layer = (id: string, left: number, top: number, side = 100) =>
  plainLayer({
    id,
    name: id,
    kind: 'pixel',
    channelIds: [0, 1, 2, 3, -1],
    box: { left, top, right: left + side, bottom: top + side },
  })
const gold = { id: 'gold', name: 'Gold', kind: 'spot', ink: null, opacity: null, plane: 4 } as const
const art = (layers: Art['layers'], more: Partial<Art> = {}): Art => ({ ...plainArt, layers, ...more })

// 300 ppi: 59 pixels are 5.0 mm.
test('what moved is said with its way, what has another size by name', () => {
  const before = art([layer('Comet', 100, 100), layer('Rings', 400, 300), layer('Sky', 0, 0, 500)])
  const after = art([layer('Comet', 159, 41), layer('Rings', 401, 300), layer('Sky', 0, 0, 400)])
  expect(artChange(before, after).message).toBe(
    'moved: "Comet" 5.0 mm to the right, 5.0 mm up; another size: "Sky"',
  )
})

test('places are counted from the lower left corner: art that grew upwards moved nothing', () => {
  const before = art([layer('Comet', 100, 100)])
  const after = art([layer('Comet', 100, 160)], { height: 660 })
  expect(artChange(before, after).message).toBe('1200 × 600 px became 1200 × 660 px')
})

test('inks that came and went are named, and the same art says so', () => {
  const one = art([layer('Comet', 100, 100)])
  expect(artChange(one, art(one.layers, { channels: [gold] })).message).toBe('inks that are new: "Gold"')
  expect(artChange(art(one.layers, { channels: [gold] }), one).message).toBe('inks that are gone: "Gold"')
  expect(artChange(one, one).message).toBe('same layers in the same places, other pixels')
})
