import type { Layer as Peer } from 'ag-psd'
import { describe, expect, it } from 'vitest'
import type { ArtFile, Layer } from '../../../core/art/layer.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { artBytes, artNames, openFixture } from './files.ts'
import { flatten, peerRead } from './second-reader.ts'

/** Names, groups, blending, masks and outlines as ag-psd reads them from the whole file. */
describe('structure against ag-psd', () => {
  it('agrees layer by layer in every file that both read', async () => {
    let layers = 0
    for (const name of artNames) {
      const peers = peersOf(name)
      const file = await opened(name)
      if (peers === null || file === null || peers.length === 0) continue
      // ag-psd takes an unknown group marker for a layer as well, but drops what stands below an unmatched end.
      if (file.art.findings.some(f => f.code === 'group-markers')) continue
      const own = file.art.layers
      expect(
        own.map(l => l.name),
        name,
      ).toEqual(peers.map(p => p.name))
      for (const [i, layer] of own.entries()) {
        expect(facts(layer, file), `${name} ${layer.name}`).toEqual(peerFacts(peers[i]!))
        layers++
      }
    }
    expect(layers).toBeGreaterThan(300)
  })
})

function peersOf(name: string): Peer[] | null {
  try {
    return flatten(peerRead(artBytes(name), false).children)
  } catch {
    return null
  }
}

async function opened(name: string): Promise<ArtFile | null> {
  try {
    return await openFixture(name)
  } catch (error) {
    if (error instanceof BadInput) return null
    throw error
  }
}

const camel = (text: string): string => text.replace(/ (\w)/g, (_, c: string) => c.toUpperCase())
const round = (v: number): number => Math.round(v * 1e6) / 1e6

function facts(layer: Layer, file: ArtFile) {
  const { mask, vectorMask } = layer
  const isGroup = layer.kind === 'group'
  return {
    group: isGroup,
    visible: layer.visible,
    opacity: round(layer.opacity),
    fillOpacity: round(layer.fillOpacity),
    blendMode: layer.blendMode,
    clipped: layer.clipped,
    box: isGroup ? null : layer.box,
    mask: mask && {
      box: mask.box,
      outside: mask.outside,
      disabled: mask.disabled,
      density: round(mask.density),
      feather: mask.feather,
    },
    outlines: vectorMask && {
      inverted: vectorMask.inverted,
      disabled: vectorMask.disabled,
      density: round(vectorMask.density),
      feather: vectorMask.feather,
      startsFull: vectorMask.startsFull,
      paths: vectorMask.paths.map(p => ({
        closed: p.closed,
        continues: p.continues,
        combine: p.continues ? null : p.combine,
        at: p.knots.map(k => pixels(k.at, file)),
        in: p.knots.map(k => pixels(k.in, file)),
        out: p.knots.map(k => pixels(k.out, file)),
      })),
    },
    effects: [...layer.effects].sort(),
    fill: layer.fill && { space: layer.fill.space, values: layer.fill.values.map(round) },
  }
}

/** Back from mm above the lower left corner to pixels below the upper left one, which is what ag-psd gives. */
function pixels([x, y]: readonly [number, number], { art }: ArtFile): string {
  const scale = (art.resolutionPpi ?? 72) / 25.4
  return spot(x * scale, art.height - y * scale)
}

/** To a thousandth of a pixel; 0 and -0 are one. */
const spot = (x: number, y: number): string =>
  [x, y].map(v => (Math.abs(v) < 5e-4 ? 0 : v).toFixed(3)).join(' ')

function peerFacts(peer: Peer): ReturnType<typeof facts> {
  const real = peer.realMask ?? (peer.mask?.fromVectorData ? undefined : peer.mask)
  const isGroup = peer.children !== undefined
  const combines = {
    exclude: 'exclude',
    combine: 'unite',
    subtract: 'subtract',
    intersect: 'intersect',
  } as const
  return {
    group: isGroup,
    visible: !peer.hidden,
    opacity: round(peer.opacity ?? 1),
    fillOpacity: round(peer.fillOpacity ?? 1),
    blendMode: camel(peer.blendMode ?? 'normal'),
    clipped: peer.clipping ?? false,
    box: isGroup ? null : { left: peer.left!, top: peer.top!, right: peer.right!, bottom: peer.bottom! },
    mask: real
      ? {
          box: { left: real.left!, top: real.top!, right: real.right!, bottom: real.bottom! },
          outside: real.defaultColor!,
          disabled: real.disabled!,
          density: round(peer.mask?.userMaskDensity ?? 1),
          feather: peer.mask?.userMaskFeather ?? 0,
        }
      : null,
    outlines: peer.vectorMask
      ? {
          inverted: peer.vectorMask.invert!,
          disabled: peer.vectorMask.disable!,
          density: round(peer.mask?.vectorMaskDensity ?? 1),
          feather: peer.mask?.vectorMaskFeather ?? 0,
          startsFull: peer.vectorMask.fillStartsWithAllPixels ?? false,
          paths: peer.vectorMask.paths.map((p, i) => ({
            closed: !p.open,
            continues: p.operation === undefined && i > 0,
            combine: p.operation === undefined ? (i > 0 ? null : 'unite') : combines[p.operation],
            in: p.knots.map(k => spot(k.points[0]!, k.points[1]!)),
            at: p.knots.map(k => spot(k.points[2]!, k.points[3]!)),
            out: p.knots.map(k => spot(k.points[4]!, k.points[5]!)),
          })),
        }
      : null,
    effects: effects(peer),
    fill: fill(peer),
  }
}

function fill(peer: Peer): ReturnType<typeof facts>['fill'] {
  if (peer.vectorFill?.type !== 'color') return null
  const color = peer.vectorFill.color as unknown as Readonly<Record<string, number>>
  const values = (keys: string, most: number) => [...keys].map(key => round(color[key]! / most))
  return 'c' in color
    ? { space: 'CMYK', values: values('cmyk', 100) }
    : { space: 'RGB', values: values('rgb', 255) }
}

function effects(peer: Peer): string[] {
  if (!peer.effects || peer.effects.disabled) return []
  const names = Object.entries(peer.effects).flatMap(([name, value]) =>
    [value].flat().some(e => typeof e === 'object' && e.enabled) ? [name] : [],
  )
  return names.sort()
}
