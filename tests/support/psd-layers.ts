import type { Box } from '../../core/art/layer.ts'
import { type Block, vectorMaskBlock } from './psd-blocks.ts'
import { Bytes, compressionCodes, encodeRows, rowTable, type Samples, sampleBytes } from './psd-bytes.ts'
import { type PsdDoc, type PsdGroup, type PsdLayer, page } from './psd-doc.ts'

/** The layer and mask section. */
export function layerSection(doc: PsdDoc): readonly Uint8Array[] {
  const big = doc.big ?? false
  if (!doc.layers) return new Bytes().size(0, big).list()
  const info = layerInfo(doc, doc.layers)
  const body = new Bytes()
  // Deep files keep their layers in a tagged block and leave the plain layer info empty.
  if (doc.depth === 8) body.size(info.length, big).all(info.list()).u32(0)
  else
    body
      .size(0, big)
      .u32(0)
      .ascii('8BIM')
      .ascii(doc.depth === 16 ? 'Lr16' : 'Lr32')
      .size(info.length, big)
      .all(info.list())
  return new Bytes().size(body.length, big).all(body.list()).list()
}

function layerInfo(doc: PsdDoc, layers: readonly (PsdLayer | PsdGroup)[]): Bytes {
  const records = flatten(layers)
  const encoded = records.map(record => encodeChannels(doc, record))
  const out = new Bytes().u16(doc.transparency ? -records.length & 0xffff : records.length)
  records.forEach((record, i) => {
    out.all(layerRecord(doc, record, encoded[i]!, i + 1))
  })
  for (const channels of encoded) for (const channel of channels) out.all(channel.data.list())
  return out.pad(4)
}

/** One layer record: a layer, the foot of a group or its head. */
interface Entry {
  readonly layer: PsdLayer | PsdGroup
  readonly part: 'layer' | 'foot' | 'head'
}

function flatten(nodes: readonly (PsdLayer | PsdGroup)[]): Entry[] {
  return nodes.flatMap((node): Entry[] =>
    'children' in node
      ? [{ layer: node, part: 'foot' }, ...flatten(node.children), { layer: node, part: 'head' }]
      : [{ layer: node, part: 'layer' }],
  )
}

const emptyBox: Box = { left: 0, top: 0, right: 0, bottom: 0 }

interface EncodedChannel {
  readonly id: number
  readonly data: Bytes
}

function encodeChannels(doc: PsdDoc, { layer, part }: Entry): EncodedChannel[] {
  const out: EncodedChannel[] = []
  if (part === 'layer' && !('children' in layer))
    for (const [id, plane] of Object.entries(layer.planes))
      out.push({
        id: Number(id),
        data: channelData(doc, typeof plane === 'function' ? plane() : plane, layer.box),
      })
  // Group marks carry the usual channels without samples: readers count on them.
  if (part !== 'layer')
    for (let id = -1; id < compositeCount(doc); id++) out.push({ id, data: new Bytes().u16(0) })
  if (part !== 'foot' && layer.mask)
    out.push({ id: -2, data: channelData(doc, layer.mask.data, layer.mask.box) })
  return out.sort((a, b) => order(a.id) - order(b.id))
}

/** Alpha, process colours, masks: the order files commonly have. */
const order = (id: number): number => (id === -1 ? -1 : id < -1 ? 1000 - id : id)

function channelData(doc: PsdDoc, samples: Samples, box: Box): Bytes {
  const width = box.right - box.left
  const expected = width * (box.bottom - box.top)
  if (samples.length !== expected)
    throw new RangeError(`channelData: expected ${expected} samples, got ${samples.length}`)
  const compression = doc.compression ?? 'rle'
  const size = samples.BYTES_PER_ELEMENT
  const { rowLengths, body } = encodeRows(sampleBytes(samples), width * size, size, compression)
  const out = new Bytes().u16(compressionCodes[compression])
  out.raw(rowTable(rowLengths, doc.big ?? false))
  return out.all(body)
}

function layerRecord(
  doc: PsdDoc,
  { layer, part }: Entry,
  channels: readonly EncodedChannel[],
  serial: number,
): readonly Uint8Array[] {
  const big = doc.big ?? false
  const box = part === 'layer' && 'box' in layer ? layer.box : emptyBox
  const blend = layer.blend ?? (part === 'layer' ? 'norm' : 'pass')
  const out = new Bytes().i32(box.top).i32(box.left).i32(box.bottom).i32(box.right).u16(channels.length)
  for (const channel of channels) out.u16(channel.id & 0xffff).size(channel.data.length, big)
  const hidden = layer.visible === false && part !== 'foot'
  out
    .ascii('8BIM')
    .ascii(part === 'foot' ? 'norm' : blend)
    .u8(part === 'foot' ? 255 : Math.round((layer.opacity ?? 1) * 255))
    .u8(part !== 'foot' && layer.clipped ? 1 : 0)
    .u8((hidden ? 2 : 0) | 8 | (part === 'layer' ? 0 : 16))
    .u8(0)
  const extra = new Bytes()
  const mask = part === 'foot' ? new Uint8Array(0) : maskData(layer)
  extra.u32(mask.length).raw(mask)
  const ranges = new Bytes()
  for (let i = 0; i < compositeCount(doc) + 2; i++) ranges.u32(0xffff).u32(0xffff)
  extra.u32(ranges.length).all(ranges.list())
  extra.pascal(part === 'foot' ? '</Layer group>' : layer.name, 4)
  for (const block of layerBlocks(doc, layer, part, blend, serial))
    extra.ascii('8BIM').ascii(block.key).u32(block.data.length).raw(block.data)
  return out.u32(extra.length).all(extra.list()).list()
}

const compositeCount = (doc: PsdDoc): number => doc.composite.length - (doc.transparency ? 1 : 0)

function maskData({ mask, vectorMask }: PsdLayer | PsdGroup): Uint8Array {
  const parameters = new Bytes()
  let present = 0
  if (mask?.density !== undefined) {
    present |= 1
    parameters.u8(Math.round(mask.density * 255))
  }
  if (mask?.feather !== undefined) {
    present |= 2
    parameters.f64(mask.feather)
  }
  if (vectorMask?.density !== undefined) {
    present |= 4
    parameters.u8(Math.round(vectorMask.density * 255))
  }
  if (vectorMask?.feather !== undefined) {
    present |= 8
    parameters.f64(vectorMask.feather)
  }
  if (!mask && present === 0) return new Uint8Array(0)
  const box = mask?.box ?? emptyBox
  const flags = (mask?.disabled ? 2 : 0) | (mask?.inverted ? 4 : 0) | (mask ? 0 : 8) | (present ? 16 : 0)
  const out = new Bytes().i32(box.top).i32(box.left).i32(box.bottom).i32(box.right)
  out.u8(mask?.outside ?? 0).u8(flags)
  if (present) out.u8(present).raw(parameters.join())
  return out
    .zeros(Math.max(0, 20 - out.length))
    .pad(2)
    .join()
}

function layerBlocks(
  doc: PsdDoc,
  layer: PsdLayer | PsdGroup,
  part: Entry['part'],
  blend: string,
  serial: number,
): Block[] {
  const name = part === 'foot' ? '</Layer group>' : layer.name
  const out: Block[] = [{ key: 'luni', data: new Bytes().unicode(name).pad(4).join() }]
  out.push({
    key: 'lyid',
    data: new Bytes().u32(part === 'foot' ? 100000 + serial : (layer.id ?? serial)).join(),
  })
  if (part !== 'layer') {
    const kind = part === 'foot' ? 3 : 'children' in layer && layer.open === false ? 2 : 1
    out.push({
      key: 'lsct',
      data: new Bytes()
        .u32(kind)
        .ascii('8BIM')
        .ascii(part === 'foot' ? 'norm' : blend)
        .join(),
    })
  }
  if (part === 'foot') return out
  if (layer.fillOpacity !== undefined)
    out.push({ key: 'iOpa', data: Uint8Array.of(Math.round(layer.fillOpacity * 255), 0, 0, 0) })
  if (layer.vectorMask) out.push(vectorMaskBlock(layer.vectorMask, page(doc)))
  return [...out, ...(layer.blocks ?? [])]
}
