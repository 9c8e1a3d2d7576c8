import type { Finding } from '../../base/finding.ts'
import { boxHeight, boxWidth } from '../box.ts'
import type { Box, Layer, VectorMask } from '../layer.ts'
import { describeRecord, type LayerDescription } from './describe.ts'
import { type Placed, placeInGroups } from './groups.ts'
import { judgeRecord } from './judge.ts'
import { adjustmentNames, blendNames, fillKeys, outlineKeys, placedKeys, textKeys } from './keys.ts'
import { userMask } from './mask.ts'
import { readOutlines, type SheetMm } from './paths.ts'
import type { LayerRecord } from './records.ts'

/** A layer and the record that its pixels lie under. */
export interface ReadLayer {
  readonly layer: Layer
  readonly record: LayerRecord
}

/** Size of a document pixel and of the sheet. */
export interface Scale {
  readonly sheet: SheetMm
  readonly mmPerPixel: number
}

/** Records → layers, bottom to top, end markers left out, a group directly above its members. */
export function toLayers(records: readonly LayerRecord[], scale: Scale, findings: Finding[]): ReadLayer[] {
  const placed = placeInGroups(records, findings)
  const ids = stableIds(placed)
  const layers = placed.map(p => ({ record: p.record, layer: toLayer(p, ids, scale) }))
  return boxGroups(layers)
}

function toLayer(
  { record, group, blendKey, parent }: Placed,
  ids: ReadonlyMap<number, string>,
  scale: Scale,
): Layer {
  const described = describeRecord(record)
  const has = (keys: readonly string[]): boolean => keys.some(key => record.keys.has(key))
  const adjustment = [...adjustmentNames].find(([key]) => record.keys.has(key))?.[1] ?? null
  const outlines = has(outlineKeys)
  const pixels = boxWidth(record.box) > 0 && boxHeight(record.box) > 0
  const channelIds = pixels
    ? record.channels.filter(c => c.length >= 2 && c.id >= -1 && c.id <= 55).map(c => c.id)
    : []
  const kind = (): Layer['kind'] => {
    if (group) return 'group'
    if (has(textKeys)) return 'text'
    if (adjustment !== null) return 'adjustment'
    if (has(placedKeys)) return 'smartObject'
    if (has(fillKeys)) return outlines ? 'shape' : 'fill'
    return 'pixel'
  }
  const fill = record.block('iOpa')
  return {
    id: ids.get(record.index)!,
    name: record.name,
    kind: kind(),
    parent: parent === null ? null : ids.get(parent)!,
    visible: !record.hidden,
    opacity: record.opacity,
    fillOpacity: fill !== null && fill.left >= 1 ? fill.u8() / 255 : 1,
    blendMode: blendNames.get(blendKey) ?? 'normal',
    clipped: record.clipping === 1,
    box: record.box,
    channelIds,
    mask: userMask(record)?.mask ?? null,
    vectorMask: vectorMask(record, scale.sheet),
    text: text(described, record.box, scale),
    fill: described.fill?.kind === 'color' ? described.fill.ink : null,
    effects: described.effects ?? [],
    adjustment,
    findings: judgeRecord(record, described, { blendKey, adjustment, pixels: channelIds.length > 0 }),
  }
}

function vectorMask(record: LayerRecord, sheet: SheetMm): VectorMask | null {
  const block = record.block('vmsk') ?? record.block('vsms')
  if (block === null || block.left < 8) return null
  block.skip(4)
  const flags = block.u32()
  const { paths, startsFull } = readOutlines(block, sheet)
  const main = record.mask?.main
  const drawn = main?.rendered === true && record.channels.some(c => c.id === -2 && c.length >= 2)
  return {
    paths,
    inverted: (flags & 1) !== 0,
    disabled: (flags & 4) !== 0,
    startsFull,
    density: record.mask?.vectorDensity ?? 1,
    feather: record.mask?.vectorFeather ?? 0,
    raster: drawn ? { box: main.box, outside: main.outside } : null,
  }
}

/** Text frame in mm from the lower left corner; the box of its pixels where it has none. */
function text(described: LayerDescription, box: Box, { sheet, mmPerPixel }: Scale): Layer['text'] {
  if (described.text === undefined) return null
  const corners = described.text.corners ?? [
    [box.left, box.top],
    [box.right, box.bottom],
  ]
  const xs = corners.map(([x]) => x * mmPerPixel)
  const ys = corners.map(([, y]) => sheet.height - y * mmPerPixel)
  return {
    value: described.text.value,
    boxMm: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
  }
}

/** The file's own layer id where it has one that no other layer has, else the stacking index. */
function stableIds(placed: readonly Placed[]): Map<number, string> {
  const used = new Set<string>()
  return new Map(
    placed.map(({ record }, i) => {
      const block = record.block('lyid')
      const own = block !== null && block.left >= 4 ? String(block.u32()) : null
      const id = own !== null && !used.has(own) ? own : `n${i}`
      used.add(id)
      return [record.index, id]
    }),
  )
}

/** Gives each group the box around its members; members come before their group. */
function boxGroups(layers: readonly ReadLayer[]): ReadLayer[] {
  const around = new Map<string, Box>()
  return layers.map(({ layer, record }) => {
    const box = layer.kind === 'group' ? (around.get(layer.id) ?? record.box) : layer.box
    if (layer.parent !== null && boxWidth(box) > 0 && boxHeight(box) > 0)
      around.set(layer.parent, union(around.get(layer.parent), box))
    return { record, layer: { ...layer, box } }
  })
}

function union(a: Box | undefined, b: Box): Box {
  if (a === undefined) return b
  return {
    left: Math.min(a.left, b.left),
    top: Math.min(a.top, b.top),
    right: Math.max(a.right, b.right),
    bottom: Math.max(a.bottom, b.bottom),
  }
}
