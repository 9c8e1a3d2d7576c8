/**
 * Writes layered PSD and PSB files for fixtures and the demo: any colour mode, 8, 16 and 32 bit, groups,
 * pixel and vector masks, spot channels, profile, paths. Samples go in as the file is to hold them
 * (CMYK and spot: highest value = no ink). Source: the published specification of the PSD and PSB formats.
 */
import type { ColorMode } from '../../core/art/layer.ts'
import {
  channelNamesData,
  displayInfoData,
  documentPathResources,
  type ExtraChannel,
  resolutionData,
  resource,
} from './psd-blocks.ts'
import { Bytes, compressionCodes, encodeRows, rowTable, type Samples, sampleBytes } from './psd-bytes.ts'
import { type PsdDoc, page } from './psd-doc.ts'
import { layerSection } from './psd-layers.ts'

export type { Block, ExtraChannel } from './psd-blocks.ts'
export { solidFillBlock } from './psd-blocks.ts'
export type { Compression, Samples } from './psd-bytes.ts'
export type { PsdDoc, PsdGroup, PsdLayer, PsdMask } from './psd-doc.ts'

const modeCodes: Readonly<Record<ColorMode, number>> = {
  Bitmap: 0,
  Grayscale: 1,
  Indexed: 2,
  RGB: 3,
  CMYK: 4,
  Multichannel: 7,
  Duotone: 8,
  Lab: 9,
}

export function writePsd(doc: PsdDoc): Uint8Array {
  const out = new Bytes()
  for (const part of psdParts(doc)) out.raw(part)
  return out.join()
}

/** The file in pieces, for files too large for one buffer. */
export function psdParts(doc: PsdDoc): readonly Uint8Array[] {
  const planes = [...doc.composite, ...(doc.channels ?? []).map(channel => channel.data)]
  const modeData = doc.modeData ?? new Uint8Array(0)
  const resources = resourceParts(doc)
  return new Bytes()
    .ascii('8BPS')
    .u16(doc.big ? 2 : 1)
    .zeros(6)
    .u16(planes.length)
    .u32(doc.height)
    .u32(doc.width)
    .u16(doc.depth)
    .u16(modeCodes[doc.mode])
    .u32(modeData.length)
    .raw(modeData)
    .u32(resources.reduce((sum, part) => sum + part.length, 0))
    .all(resources)
    .all(layerSection(doc))
    .all(compositeParts(doc, planes))
    .list()
}

function resourceParts(doc: PsdDoc): Uint8Array[] {
  const out: Uint8Array[] = []
  if (doc.ppi !== undefined) out.push(resource(1005, resolutionData(doc.ppi)))
  const channels: ExtraChannel[] = [...(doc.channels ?? [])]
  if (doc.transparency) channels.unshift({ name: 'Transparency', kind: 'alpha' })
  if (channels.length > 0) {
    const names = channelNamesData(channels.map(channel => channel.name))
    out.push(
      resource(1006, names.ascii),
      resource(1045, names.unicode),
      resource(1077, displayInfoData(channels)),
    )
  }
  if (doc.profile) out.push(resource(1039, doc.profile))
  const writer = new Bytes().u32(1).u8(doc.realComposite === false ? 0 : 1)
  out.push(resource(1057, writer.unicode('rakelight').unicode('rakelight').u32(1).join()))
  out.push(...documentPathResources(doc.paths ?? [], page(doc)))
  for (const extra of doc.resources ?? []) out.push(resource(extra.id, extra.data))
  return out
}

function compositeParts(doc: PsdDoc, planes: readonly Samples[]): readonly Uint8Array[] {
  const compression = doc.compositeCompression ?? 'rle'
  const out = new Bytes().u16(compressionCodes[compression])
  const encoded = planes.map(plane => {
    if (plane.length !== doc.width * doc.height)
      throw new RangeError(`composite: expected ${doc.width * doc.height} samples, got ${plane.length}`)
    const size = plane.BYTES_PER_ELEMENT
    return encodeRows(sampleBytes(plane), doc.width * size, size, compression)
  })
  for (const plane of encoded) out.raw(rowTable(plane.rowLengths, doc.big ?? false))
  for (const plane of encoded) out.all(plane.body)
  return out.list()
}
