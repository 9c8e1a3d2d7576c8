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
  return readLayerBlocks(stream, header, findings, task)
}

const layerKeys = new Set(['Lr16', 'Lr32', 'Layr'])
/** An empty block that says what a negative layer count says: the first extra plane is the transparency. */
const transparencyKeys = new Set(['Mtrn', 'Mt16', 'Mt32'])

async function readLayerBlocks(
  stream: Stream,
  header: Header,
  findings: Finding[],
  task?: Task,
): Promise<LayerRecords> {
  let records: LayerRecords['records'] = []
  let transparency = false
  const stop = (at: number, message: string): void => {
    findings.push({
      severity: 'warning',
      code: 'blocks-damaged',
      where: `byte ${at}`,
      message: `${message}; what follows it up to the flattened picture is not read`,
      fix: saveAgain,
    })
  }
  while (stream.left >= 12) {
    const at = stream.at
    const head = await stream.section(12)
    const signature = head.tag()
    if (signature.charCodeAt(0) === 0) {
      // Padding between blocks is not always counted.
      stream.at = at + 1
      continue
    }
    if (!blockSignature(signature)) {
      stop(at, 'what follows the layers is not a block')
      break
    }
    const key = head.tag()
    const wide = wideLength(signature, key, header.large)
    stream.at = at + 8
    if (stream.left < (wide ? 8 : 4)) break
    const length = (await stream.section(wide ? 8 : 4)).length(wide)
    const holdsLayers = layerKeys.has(key) && length >= 2 && records.length === 0
    if (length > stream.left) {
      const message = `the block ${key} needs ${length} bytes, but its section has ${stream.left}`
      if (holdsLayers) throw damaged(stream.place, at, message, 'cut-short')
      stop(at, message)
      break
    }
    transparency ||= transparencyKeys.has(key)
    if (holdsLayers) {
      const found = await readRecords(
        stream.within(stream.at, stream.at + length),
        header.large,
        findings,
        task,
      )
      records = found.records
      transparency ||= found.transparency
    }
    stream.skip(Math.min(stream.left, length + ((4 - (length % 4)) % 4)))
  }
  return { records, transparency }
}

/** The compression code at the head of a channel. */
export async function compressionCode(source: ByteSource, offset: number, place: Place): Promise<number> {
  return new Cursor(await readExactly(source, offset, 2, place), offset, place).u16()
}
