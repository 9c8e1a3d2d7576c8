import { describe, expect, it } from 'vitest'
import { suggestEffect } from '../../../core/effects/suggest.ts'
import { type PaintedLayer, paintedFile } from '../painted.ts'

const flat = () => [0, 0, 0, 0, 1]
const colours = (x: number) => (x < 3 ? [0, 1, 1, 0, 1] : x < 6 ? [1, 0, 1, 0, 1] : [1, 1, 0, 0, 1])

async function suggest(layers: readonly PaintedLayer[], id: string) {
  return suggestEffect(paintedFile({ width: 9, height: 9, layers }), { kind: 'layer', id })
}

describe('the effect a holography layer starts with', () => {
  it.each([
    ['Holo lens rings', 'concentric'],
    ['Holo Ringe', 'concentric'],
    ['Holo anneaux', 'concentric'],
    ['ホロ同心円', 'concentric'],
    ['全息环', 'concentric'],
    ['Sunburst', 'radial'],
    ['Holo Strahlenkranz', 'radial'],
    ['Holo promienie', 'radial'],
    ['Holo comet', 'plain'],
    ['Holo under rings', 'plain'],
  ])('%s: %s', async (name, kind) => {
    expect((await suggest([{ name, paint: flat }], name)).effect.kind).toBe(kind)
  })

  it('comes from the group when the layer says nothing, and says so', async () => {
    const layers: PaintedLayer[] = [
      { name: 'Outer', parent: 'Holo rings', paint: flat },
      { name: 'Holo rings', kind: 'group' },
    ]
    expect(await suggest(layers, 'Outer')).toMatchObject({
      effect: { kind: 'concentric' },
      reason: 'group "Holo rings" has "rings"',
      from: { kind: 'layer', id: 'Holo rings' },
    })
  })

  it('is read from the drawing when that is a rainbow', async () => {
    const suggestion = await suggest([{ name: 'Holo tail', paint: colours }], 'Holo tail')
    expect(suggestion.effect.kind).toBe('coded')
    expect(suggestion.reason).toContain('rainbow')
  })

  it('is plain for a channel without a telling name', async () => {
    const file = paintedFile({ width: 2, height: 2, channels: [{ name: 'Holo', paint: () => 1 }] })
    expect((await suggestEffect(file, { kind: 'channel', id: 'Holo' })).effect.kind).toBe('plain')
  })
})
