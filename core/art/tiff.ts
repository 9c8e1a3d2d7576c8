import type { Finding } from '../base/finding.ts'
import { BadInput } from '../base/finding.ts'
import { openImageCodecs } from '../base/image-codecs.ts'
import type { ByteSource } from '../base/source.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { flatFile } from './flat-file.ts'
import { namedProfile } from './icc-name.ts'
import type { ArtFile } from './layer.ts'
import { resolutionOf } from './resolution.ts'
import { BlockReader } from './tiff/blocks.ts'
import { readColours } from './tiff/colours.ts'
import { type Directory, readDirectories } from './tiff/directory.ts'
import { readPage } from './tiff/page.ts'
import { readRows } from './tiff/planes.ts'
import { tag } from './tiff/tags.ts'

export interface TiffOptions {
  /** Bytes that one decoded plane or block may take. */
  readonly memoryBudget: number
  /** Page of a file with several, from 1; the first when left out. Pictures of lower resolution are no pages. */
  readonly page?: number | undefined
  /** Programs that fax is unpacked by, by file name; without them pages packed so are refused. */
  readonly codec?: ((name: string) => Promise<Uint8Array>) | undefined
}

/** A page of pixels: nothing of it is drawn or set. */
const noPage = { trim: null, bleed: null, fonts: [], inexact: [], readAs: 'inks' } as const

const mostProfile = 32 * 2 ** 20

/**
 * Opens a page of a TIFF or BigTIFF: process colours as one flat layer, other inks as channels by name. Strips and
 * tiles are read as rows are asked for; what the file says of them is checked here.
 * @throws BadInput with the page and byte when the file cannot be used
 */
export async function openTiff(source: ByteSource, options: TiffOptions, task?: Task): Promise<ArtFile> {
  const findings: Finding[] = []
  const pages = await fullPages(source)
  checkCancelled(task)
  const number = options.page ?? 1
  const dir = pages[number - 1]
  if (dir === undefined)
    throw new BadInput(
      'page-missing',
      source.name,
      `page ${number}`,
      `the file has ${pages.length === 1 ? 'one page' : `${pages.length} pages`}`,
      `Choose a page from 1 to ${pages.length}.`,
    )
  if (pages.length > 1 && options.page === undefined)
    findings.push({
      severity: 'note',
      code: 'first-page',
      where: 'page 1',
      message: `the file has ${pages.length} pages; the first is used`,
      fix: 'Choose another page if it holds the art.',
    })
  if (dir.has(tag.layers))
    findings.push({
      severity: 'note',
      code: 'layers-not-read',
      where: `page ${number}`,
      message: 'layers that its program keeps inside the TIFF are not read; the flat picture is',
      fix: 'Save the art as a layered file if its layers matter.',
    })
  const page = await readPage(dir, source)
  if (page.packing === 'fax' && options.codec === undefined)
    throw new BadInput(
      'compression',
      source.name,
      `page ${number}`,
      'it is packed with fax coding, whose decoder is not at hand',
      'Save it with LZW, ZIP or without compression.',
    )
  const colours = await readColours(dir, page, findings)
  const profile = await dir.bytes(tag.profile, mostProfile)
  const unit = await dir.number(tag.resolutionUnit, 2)
  const perInch = unit === 2 ? 1 : unit === 3 ? 2.54 : 0
  const resolutionPpi = resolutionOf(
    perInch * (await dir.number(tag.xResolution, 0)),
    perInch * (await dir.number(tag.yResolution, 0)),
    findings,
  )
  const fax = options.codec === undefined ? null : openImageCodecs(options.codec).fax
  const reader = new BlockReader(source, page, dir.place, options.memoryBudget, fax)
  return flatFile(
    {
      name: source.name,
      format: 'TIFF',
      width: page.width,
      height: page.height,
      resolutionPpi,
      colorMode: colours.mode,
      depth: colours.depth,
      channels: colours.channels,
      profile: profile === null ? null : namedProfile(profile.slice()),
      palette: colours.palette,
      findings,
      ...(pages.length > 1 ? { page: { ...noPage, number, count: pages.length } } : {}),
    },
    (index, rows) => readRows(page, colours, reader, index, rows, options.memoryBudget, dir.place),
  )
}

/** Pages that a reader can choose from, with their size in pixels. */
export async function tiffPages(
  source: ByteSource,
): Promise<readonly { readonly width: number; readonly height: number }[]> {
  const pages: { width: number; height: number }[] = []
  for (const dir of await fullPages(source))
    pages.push({ width: await dir.number(tag.width, 0), height: await dir.number(tag.height, 0) })
  return pages
}

/** All directories but those of smaller copies and of masks. Source: TIFF 6.0, NewSubfileType, bits 0 and 2. */
async function fullPages(source: ByteSource): Promise<readonly Directory[]> {
  const all = await readDirectories(source)
  const full: Directory[] = []
  for (const dir of all) if (((await dir.number(tag.subfile, 0)) & 5) === 0) full.push(dir)
  return full.length > 0 ? full : all
}
