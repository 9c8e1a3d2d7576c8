import { BadInput, type Finding } from '../../base/finding.ts'
import type { Mark } from '../ink/mark.ts'
import type { InkPage } from '../ink/page.ts'
import { paintPage } from '../ink/raster.ts'
import type { Art, ArtFile, Box, ReadAs } from '../layer.ts'
import type { PaintBand } from './bands.ts'
import { drawnLayers } from './layers.ts'
import { type Sorted, sortMarks } from './leaves.ts'
import { PageFile } from './page-file.ts'
import { isTooLarge, mostPpiOf, type PageSize, pixelsOf } from './size.ts'

/** What a drawn page becomes art by. */
export interface DrawnHow {
  /** File name. */
  readonly name: string
  readonly format: Art['format']
  readonly ppi: number
  /** Colour mode of its process inks, which come first: C, M, Y, K, or what takes red, green and blue away. */
  readonly mode: 'CMYK' | 'RGB'
  /** Number of the page, from 1, and how many there are. */
  readonly number: number
  readonly count: number
  readonly readAs: ReadAs
}

/**
 * A drawn page as art of that resolution.
 * @throws BadInput `page-empty`, `page-too-large`
 */
export function drawnArt(page: InkPage, how: DrawnHow): ArtFile {
  return artOfSize(page, how, sizeOf(page, how), null)
}

/** @param part that is painted; null: all */
function artOfSize(page: InkPage, how: DrawnHow, size: PageSize, part: Box | null): ArtFile {
  const count = how.mode === 'CMYK' ? 4 : 3
  const exact = sortMarks(page, count)
  // Where inks are not told apart, no layer is one of inks alone.
  const sorted: Sorted =
    how.readAs === 'inks' ? exact : { ...exact, leaves: exact.leaves.map(leaf => ({ ...leaf, spots: null })) }
  const { layers, channels, leafOf } = drawnLayers({
    page,
    leaves: sorted.leaves,
    process: { space: how.mode, count },
    pixelsPerMm: how.ppi / 25.4,
    height: size.height,
  })
  const art: Art = {
    name: how.name,
    format: how.format,
    ...size,
    resolutionPpi: how.ppi,
    colorMode: how.mode,
    depth: 8,
    layers,
    channels: how.readAs === 'inks' ? channels : [],
    paths: [],
    profile: profileOf(page),
    palette: null,
    hasComposite: true,
    findings: [...page.findings, ...fontFindings(page), ...inexactFindings(page, how.readAs)],
    page: {
      number: how.number,
      count: how.count,
      sizeMm: [page.widthMm, page.heightMm],
      trim: page.boxes.trim,
      bleed: page.boxes.bleed,
      fonts: page.fonts,
      inexact: page.inexact,
      readAs: how.readAs,
    },
  }
  const silent = new Set(
    sorted.leaves.flatMap(({ layer }, i) => (layer !== null && !page.layers[layer]!.prints ? [i] : [])),
  )
  return new PageFile(art, {
    leaves: sorted.leaves,
    leafOf,
    process: count,
    silent,
    marks: sorted.marks,
    inInks: page.blending === undefined,
    paint: without => painterOf({ ...page, marks: sorted.marks }, size, how.ppi, without),
    part,
    finer: (times, part) => {
      const finer = { width: size.width * times, height: size.height * times }
      return artOfSize(page, { ...how, ppi: how.ppi * times }, finer, part)
    },
  })
}

/**
 * What paints bands of a page whose marks name their leaves. Its pixels are squares, counted from the lower left corner,
 * so that lengths are those of its outlines; the last row and column may reach over its edge or stop half a pixel short.
 */
function painterOf(
  page: InkPage,
  { width, height }: PageSize,
  ppi: number,
  without: ReadonlySet<Mark>,
): PaintBand {
  const whole = { ...page, widthMm: (width * 25.4) / ppi, heightMm: (height * 25.4) / ppi }
  return async (shown, box, task) => {
    const wish = {
      widthPx: width,
      heightPx: height,
      rows: [box.top, box.bottom] as const,
      columns: [box.left, box.right] as const,
      layers: (leaf: number | null) => leaf === null || shown.has(leaf),
      marks: (mark: Mark) => !without.has(mark),
    }
    const { inks, shape } = paintPage(whole, wish, task?.signal ? { signal: task.signal } : undefined)
    // A carton's band has one ink in three: what is empty is not kept.
    const planes = inks.map(plane => (plane.some(value => value > 0) ? plane : null))
    return { box, planes, shape }
  }
}

function sizeOf({ widthMm, heightMm }: InkPage, { ppi, name }: DrawnHow): PageSize {
  const said = `${Number(widthMm.toFixed(1))} × ${Number(heightMm.toFixed(1))} mm`
  if (!(widthMm > 0 && heightMm > 0))
    throw new BadInput('page-empty', name, 'the page', `is ${said}`, 'Give it a size and export it anew.')
  const size = pixelsOf(widthMm, heightMm, ppi)
  if (isTooLarge(size)) {
    const most = mostPpiOf(widthMm, heightMm)
    throw new BadInput(
      'page-too-large',
      name,
      'the page',
      `is ${said}, which are ${size.width} × ${size.height} pixels at ${ppi} ppi`,
      most >= 1 ? `Choose ${most} ppi or less.` : 'Export the carton alone.',
    )
  }
  return size
}

function profileOf({ outputIntent }: InkPage): Art['profile'] {
  if (outputIntent === null || outputIntent.profile === null) return null
  return { name: outputIntent.name, bytes: outputIntent.profile }
}

/** Fonts that are not in the file, where its reader has not said so of each. */
function fontFindings({ fonts, findings }: InkPage): readonly Finding[] {
  const missing = fonts
    .filter(font => !font.embedded && !findings.some(({ where }) => where === `font "${font.name}"`))
    .map(font => `"${font.name}"`)
  if (missing.length === 0) return []
  return [
    {
      severity: 'warning',
      code: 'fonts-missing',
      where: 'fonts',
      message: `${missing.join(', ')} ${missing.length === 1 ? 'is' : 'are'} not in the file; other letters stand for ${missing.length === 1 ? 'it' : 'them'}`,
      fix: 'Export the art with its fonts embedded, or with type as outlines.',
    },
  ]
}

function inexactFindings({ inexact, findings }: InkPage, readAs: ReadAs): readonly Finding[] {
  if (inexact.length === 0) return []
  if (readAs === 'layers')
    return [
      {
        severity: 'note',
        code: 'read-by-layers',
        where: 'document',
        message: 'what is painted is told by layer alone; the amounts of its inks are not',
        fix: 'Nothing, if every part that counts has a layer of its own.',
      },
    ]
  // Some of them were said when they were met.
  return inexact.filter(one => !findings.some(other => other.where === one.where && other.code === one.code))
}
