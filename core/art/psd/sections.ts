import type { Finding } from '../../base/finding.ts'
import type { ByteSource } from '../../base/source.ts'
import type { Task } from '../../base/task.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'
import { Cursor } from './cursor.ts'
import { type Header, headerBytes } from './header.ts'
import { type LayerSection, noLayers, readLayerSection } from './layer-section.ts'
import { Stream } from './stream.ts'

/** The parts of a file behind its header, in their order. */
export interface Sections {
  readonly colorData: Uint8Array
  readonly resources: Cursor
  readonly layers: LayerSection
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
      ? noLayers
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

/** The compression code at the head of a channel. */
export async function compressionCode(source: ByteSource, offset: number, place: Place): Promise<number> {
  return new Cursor(await readExactly(source, offset, 2, place), offset, place).u16()
}
