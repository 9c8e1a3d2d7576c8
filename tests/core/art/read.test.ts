import { describe, expect, it } from 'vitest'
import { processCount } from '../../../core/art/layer.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'
import { artBytes, artNames, decodeEverything, inventory } from './files.ts'

interface Row {
  readonly name: string
  readonly what: string
  readonly layers: string
  readonly planes: string
  readonly said: string
}

describe('real files', () => {
  it('are read to the last sample; at least 40 of them, the rest with a reason', async () => {
    const rows: Row[] = []
    for (const name of artNames) rows.push(await read(name))
    console.log(table(rows))
    expect(rows.length).toBe(artNames.length)
    expect(rows.filter(row => row.planes !== '-').length).toBeGreaterThanOrEqual(40)
  })

  // The collection's inventory was made with psd-tools, which shares no code with this reader.
  it('have the mode, depth, channels and layer records that their inventory lists', async () => {
    const listed = inventory()
    let compared = 0
    for (const name of artNames) {
      const expected = listed.get(name)
      if (expected === undefined || !Number.isFinite(expected.records)) continue
      let art: Awaited<ReturnType<typeof decodeEverything>>['file']['art']
      try {
        art = (await decodeEverything(memorySource(name, artBytes(name)))).file.art
      } catch (error) {
        expect(error).toBeInstanceOf(BadInput)
        continue
      }
      const ends = art.findings.some(f => f.code === 'group-marker-unknown')
        ? 0
        : art.layers.filter(l => l.kind === 'group').length
      const records = art.layers.filter(l => l.kind !== 'flat').length + ends
      const channels = processCount(art.colorMode) + art.channels.length
      expect({ name, mode: art.colorMode, bits: art.depth, channels, records }).toEqual({ name, ...expected })
      compared++
    }
    expect(compared).toBeGreaterThanOrEqual(40)
  })

  it('keep groups directly above their members', async () => {
    for (const name of [
      'psd-tools__transparency_transparency-group.psd',
      'psd__errors_original-with-group.psd',
    ]) {
      const { art } = (await decodeEverything(memorySource(name, artBytes(name)))).file
      expect(art.layers.some(l => l.parent !== null)).toBe(true)
      for (const [i, layer] of art.layers.entries()) {
        if (layer.parent === null) continue
        const group = art.layers.findIndex(l => l.id === layer.parent)
        expect(group).toBeGreaterThan(i)
        // Everything between a member and its group lies in the group too.
        for (const between of art.layers.slice(i, group))
          expect(ancestors(art.layers, between.id)).toContain(layer.parent)
      }
    }
  })
})

function ancestors(layers: readonly { id: string; parent: string | null }[], id: string): string[] {
  const parent = layers.find(l => l.id === id)?.parent ?? null
  return parent === null ? [] : [parent, ...ancestors(layers, parent)]
}

async function read(name: string): Promise<Row> {
  try {
    const { file, layerPlanes } = await decodeEverything(memorySource(name, artBytes(name)))
    const { art } = file
    let planes = layerPlanes.length
    const count = processCount(art.colorMode) + art.channels.length
    const said = [...art.findings, ...art.layers.flatMap(l => l.findings)].map(f => f.code)
    const lost = said.includes('picture-missing')
    for (let i = 0; i < count && !lost; i++) {
      const plane = await file.documentPlane(i)
      expect(plane.data.length).toBe(art.width * art.height)
      planes++
    }
    for (const plane of layerPlanes)
      expect(plane.data.length).toBe((plane.box.right - plane.box.left) * (plane.box.bottom - plane.box.top))
    return {
      name,
      what: `${art.format} ${art.colorMode} ${art.depth} ${art.width}×${art.height}`,
      layers: String(art.layers.length),
      planes: String(planes),
      said: [...new Set(said)].join(', '),
    }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { name, what: '-', layers: '-', planes: '-', said: `refused: ${error.code}` }
  }
}

function table(rows: readonly Row[]): string {
  const head: Row = { name: 'file', what: 'what', layers: 'layers', planes: 'planes', said: 'findings' }
  return [head, ...rows]
    .map(r =>
      [r.name.padEnd(52), r.what.padEnd(28), r.layers.padStart(6), r.planes.padStart(6), r.said].join(' '),
    )
    .join('\n')
}
