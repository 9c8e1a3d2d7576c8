import { type Color, type Layer, type Psd, readPsd } from 'ag-psd'
import type { InkColor } from './layer.ts'

/** What the structure library says of one block of a layer. */
export interface Described {
  readonly text?: {
    readonly value: string
    /** Corners of the frame that the text flows in, document pixels; null for text that has none. */
    readonly corners: readonly (readonly [number, number])[] | null
  }
  readonly fill?:
    | { readonly kind: 'color'; readonly ink: InkColor }
    | { readonly kind: 'gradient' | 'pattern' }
  /** Effects that are switched on. */
  readonly effects?: readonly string[]
  readonly stroke?: boolean
}

/** Blocks that are worth asking about. */
export const describedKeys = ['TySh', 'SoCo', 'GdFl', 'PtFl', 'vscg', 'vstk', 'lfx2', 'lmfx', 'lrFX'] as const
export type DescribedKey = (typeof describedKeys)[number]

/**
 * Hands one block of a layer record to ag-psd, in a file of one RGB layer without pixels: so the library never meets
 * a colour mode it refuses, a size it doubts or a neighbour that is damaged, and the answer belongs to the layer.
 * @returns null when the library cannot read the block
 */
export function describeBlock(key: DescribedKey, block: Uint8Array): Described | null {
  try {
    const psd: Psd = readPsd(oneLayer(key, block), {
      skipCompositeImageData: true,
      skipLayerImageData: true,
      skipThumbnail: true,
      throwForMissingFeatures: true,
      strict: false,
    })
    const layer = psd.children?.[0]
    return layer ? describeOne(layer) : null
  } catch {
    // The library throws Error, RangeError and plain strings.
    return null
  }
}

function describeOne(layer: Layer): Described {
  const out: { -readonly [K in keyof Described]: Described[K] } = {}
  if (layer.text) out.text = { value: layer.text.text, corners: frame(layer.text) }
  if (layer.vectorFill)
    out.fill =
      layer.vectorFill.type === 'color'
        ? { kind: 'color', ink: ink(layer.vectorFill.color) }
        : { kind: layer.vectorFill.type === 'pattern' ? 'pattern' : 'gradient' }
  if (layer.effects) out.effects = effectsOn(layer.effects)
  if (layer.vectorStroke) out.stroke = layer.vectorStroke.strokeEnabled ?? false
  return out
}

function effectsOn(effects: NonNullable<Layer['effects']>): string[] {
  if (effects.disabled) return []
  const on: string[] = []
  for (const [name, value] of Object.entries(effects)) {
    const list: unknown[] = Array.isArray(value) ? value : [value]
    if (list.some(e => typeof e === 'object' && e !== null && 'enabled' in e && e.enabled === true))
      on.push(name)
  }
  return on
}

/** The frame that text flows in, through the text's own transform; text without a frame has none. */
function frame(text: NonNullable<Layer['text']>): [number, number][] | null {
  const [a, b, c, d, e, f] = text.transform ?? []
  const [left, top, right, bottom] = text.boxBounds ?? []
  if (text.shapeType !== 'box') return null
  if ([a, b, c, d, e, f, left, top, right, bottom].some(v => v === undefined || !Number.isFinite(v)))
    return null
  const corners = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ] as const
  return corners.map(([x, y]) => [a! * x! + c! * y! + e!, b! * x! + d! * y! + f!])
}

function ink(color: Color): InkColor {
  if ('c' in color) return { space: 'CMYK', values: [color.c, color.m, color.y, color.k].map(v => v / 100) }
  if ('fr' in color) return { space: 'RGB', values: [color.fr, color.fg, color.fb] }
  if ('r' in color) return { space: 'RGB', values: [color.r, color.g, color.b].map(v => v / 255) }
  if ('l' in color) return { space: 'Lab', values: [color.l, color.a, color.b] }
  if ('h' in color) return { space: 'HSB', values: [color.h, color.s / 100, color.b / 100] }
  return { space: 'Gray', values: [color.k / 100] }
}

/** A 1 × 1 RGB file of one layer without channels that carries one block. */
function oneLayer(key: string, block: Uint8Array): ArrayBuffer {
  const extra = 4 + 12 + 4 + 12 + block.length + (block.length % 2)
  const info = 2 + 34 + extra
  const view = new DataView(new ArrayBuffer(26 + 4 + 4 + 4 + 4 + info + 4))
  let at = 0
  const u16 = (v: number): void => {
    view.setUint16(at, v)
    at += 2
  }
  const u32 = (v: number): void => {
    view.setUint32(at, v)
    at += 4
  }
  const tag = (text: string): void => {
    for (let i = 0; i < 4; i++) view.setUint8(at++, text.charCodeAt(i))
  }
  tag('8BPS')
  u16(1)
  at += 6
  u16(3) // channels
  u32(1)
  u32(1)
  u16(8) // bits
  u16(3) // RGB
  u32(0) // colour data
  u32(0) // resources
  u32(4 + info + 4)
  u32(info)
  u16(1) // layers
  at += 16 // box
  u16(0) // channels
  tag('8BIM')
  tag('norm')
  u32(0xff000000) // opacity, clipping, flags
  u32(extra)
  u32(0) // mask
  u32(8) // blend ranges, which the library reads even when they are not there
  at += 8
  u32(0) // name
  tag('8BIM')
  tag(key)
  u32(block.length)
  new Uint8Array(view.buffer).set(block, at)
  return view.buffer
}
