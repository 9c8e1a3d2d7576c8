import type { Finding } from '../../base/finding.ts'
import type { ByteSource } from '../../base/source.ts'
import type { Task } from '../../base/task.ts'
import { blockSignature, wideLength } from './blocks.ts'
import { Cursor } from './cursor.ts'
import { type Header, headerBytes } from './header.ts'
import { damaged, type Place, saveAgain } from './place.ts'
import { type LayerRecords, readRecords } from './records.ts'
import { readExactly, Stream } from './stream.ts'

/** The parts of a file behind its header, in their order. */
export interface Sections {
  readonly colorData: Uint8Array
  readonly resources: Cursor
  readonly layers: LayerRecords
  /** Where the flattened picture begins (its compression code). */
  readonly picture: number
}

/** Walks over the file once; samples are passed over, not read. */
export async function readSections(
  source: ByteSource,
  header: Header,
  budget: number,
  findings: Finding[],
  task?: Task,
): Promise<Sections> {
  const place: Place = { file: source.name, part: null }
  const file = new Stream(source, headerBytes, source.size, budget, place)
  const colorData = await lengthSection(file, 'colour data')
  const resources = await lengthSection(file, 'image resources')
  const at = file.at
  const length = (await file.section(header.large ? 8 : 4)).length(header.large)
  if (length > file.left)
    throw damaged(
      place,
      at,
      `the layers need ${length} bytes, but only ${file.left} follow: the file is cut short or damaged`,
      'cut-short',
    )
  const picture = file.at + length
  const layers =
    length === 0
      ? { records: [], transparency: false }
      : await readLayerSection(new Stream(source, file.at, picture, budget, place), header, findings, task)
  return { colorData: colorData.take(colorData.left), resources, layers, picture }
}

async function lengthSection(file: Stream, what: string): Promise<Cursor> {
  const at = file.at
  const length = (await file.section(4)).u32()
  if (length > file.left)
    throw damaged(
      file.place,
      at,
      `the ${what} need ${length} bytes, but only ${file.left} follow: the file is cut short or damaged`,
      'cut-short',
    )
  return file.section(length)
}

/** Layer records stand in the section itself, or (16 and 32 bits) in a block behind it. */
async function readLayerSection(
  stream: Stream,
  header: Header,
  findings: Finding[],
  task?: Task,
): Promise<LayerRecords> {
  const none: LayerRecords = { records: [], transparency: false }
  if (stream.left < (header.large ? 8 : 4)) return none
  const length = (await stream.section(header.large ? 8 : 4)).length(header.large)
  if (length > stream.left)
    throw damaged(
      stream.place,
      stream.at,
      `the layer records need ${length} bytes, but their section has ${stream.left}`,
      'cut-short',
    )
  const end = stream.at + length
  if (length >= 2) {
    const own = await readRecords(stream.within(stream.at, end), header.large, findings, task)
    if (own.records.length > 0) return own
  }
  stream.skip(end - stream.at)
  if (stream.left >= 4) {
    const mask = (await stream.section(4)).u32()
    stream.skip(Math.min(mask, stream.left))
  }
  return (await readLayerBlock(stream, header, findings, task)) ?? none
}

const layerKeys = new Set(['Lr16', 'Lr32', 'Layr'])

async function readLayerBlock(
  stream: Stream,
  header: Header,
  findings: Finding[],
  task?: Task,
): Promise<LayerRecords | null> {
  while (stream.left >= 12) {
    const at = stream.at
    const head = await stream.section(12)
    const signature = head.tag()
    if (!blockSignature(signature)) {
      if (signature.charCodeAt(0) === 0) {
        // Padding between blocks is not always counted.
        stream.at = at + 1
        continue
      }
      findings.push({
        severity: 'warning',
        code: 'blocks-damaged',
        where: `byte ${at}`,
        message: 'what follows the layers is not a block; the rest up to the flattened picture is not read',
        fix: saveAgain,
      })
      return null
    }
    const key = head.tag()
    const wide = wideLength(signature, key, header.large)
    stream.at = at + 8
    const length = (await stream.section(wide ? 8 : 4)).length(wide)
    if (length > stream.left)
      throw damaged(
        stream.place,
        at,
        `the block ${key} needs ${length} bytes, but its section has ${stream.left}`,
        'cut-short',
      )
    if (layerKeys.has(key) && length >= 2)
      return readRecords(stream.within(stream.at, stream.at + length), header.large, findings, task)
    stream.skip(Math.min(stream.left, length + ((4 - (length % 4)) % 4)))
  }
  return null
}

/** The compression code at the head of a channel. */
export async function compressionCode(source: ByteSource, offset: number, place: Place): Promise<number> {
  return new Cursor(await readExactly(source, offset, 2, place), offset, place).u16()
}
