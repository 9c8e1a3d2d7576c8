import type { Finding } from '../../base/finding.ts'
import type { Task } from '../../base/task.ts'
import { damaged, saveAgain } from '../place.ts'
import { blockSignature, wideLength } from './blocks.ts'
import type { Header } from './header.ts'
import { pathNames } from './paths.ts'
import { type LayerRecords, readRecords } from './records.ts'
import type { Stream } from './stream.ts'

/** What stands between the image resources and the flattened picture. */
export interface LayerSection extends LayerRecords {
  /** Names of the saved paths in Unicode, in their order; empty where the file has none. */
  readonly pathNames: readonly string[]
}

export const noLayers: LayerSection = { records: [], transparency: false, pathNames: [] }

/** Layer records stand in the section itself, or (16 and 32 bits) in a block behind it. */
export async function readLayerSection(
  stream: Stream,
  header: Header,
  findings: Finding[],
  task?: Task,
): Promise<LayerSection> {
  const wide = header.large
  if (stream.left < (wide ? 8 : 4)) return noLayers
  const length = (await stream.section(wide ? 8 : 4)).length(wide)
  if (length > stream.left)
    throw damaged(
      stream.place,
      stream.at,
      `the layer records need ${length} bytes, but their section has ${stream.left}`,
      'cut-short',
    )
  const end = stream.at + length
  const own = length >= 2 ? await readRecords(stream.within(stream.at, end), wide, findings, task) : noLayers
  stream.skip(end - stream.at)
  if (stream.left >= 4) {
    const mask = (await stream.section(4)).u32()
    stream.skip(Math.min(mask, stream.left))
  }
  return readBlocksBehind(own, stream, wide, findings, task)
}

const layerKeys = new Set(['Lr16', 'Lr32', 'Layr'])
/** An empty block that says what a negative layer count says: the first extra plane is the transparency. */
const transparencyKeys = new Set(['Mtrn', 'Mt16', 'Mt32'])
const pathKey = 'pths'
/** Path names are short; a longer block is damage. */
const mostPathBytes = 1 << 20

async function readBlocksBehind(
  own: LayerRecords,
  stream: Stream,
  large: boolean,
  findings: Finding[],
  task?: Task,
): Promise<LayerSection> {
  let { records, transparency } = own
  let names: readonly string[] = []
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
    const wide = wideLength(signature, key, large)
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
    const end = stream.at + length
    transparency ||= transparencyKeys.has(key)
    if (holdsLayers) {
      const found = await readRecords(stream.within(stream.at, end), large, findings, task)
      records = found.records
      transparency ||= found.transparency
    }
    if (key === pathKey && length <= mostPathBytes) names = pathNames(await stream.section(length))
    stream.skip(Math.min(stream.end, end + ((4 - (length % 4)) % 4)) - stream.at)
  }
  return { records, transparency, pathNames: names }
}
