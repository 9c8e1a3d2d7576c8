import { paintPage } from '../../core/art/ink/raster.ts'
import { readInkPage } from '../../core/art/pdf/read-page.ts'
import type { Finding } from '../../core/base/finding.ts'
import { memorySource } from '../../core/base/source.ts'
import { pageData } from './page-data.ts'
import type { PdfPageName } from './pdf-pages.ts'
import { comparePlanes, edgePixels, type PlaneDifference, tiffsep } from './tiffsep.ts'

/** How the planes of a page compare with the reference's, ink by ink. */
export interface Separations {
  readonly inks: readonly (PlaneDifference & { readonly ink: string })[]
  /** Part of the page that lies away from edges, 0..1. */
  readonly inside: number
  /** Inks that one of the two has and the other has not, though something is printed of it. */
  readonly alone: readonly string[]
  /** Objects that are said to be inexact. */
  readonly inexact: readonly Finding[]
  readonly findings: readonly Finding[]
}

/** The first page of a PDF as inks, ours and the reference's, at a resolution. */
export async function compareSeparations(pdf: Uint8Array, ppi = 144): Promise<Separations> {
  const reference = tiffsep(pdf, ppi, 'bleed')
  const page = await readInkPage(memorySource('page.pdf', pdf), {}, pageData)
  const { width: widthPx, height: heightPx } = reference
  const shown = (at: number | null): boolean =>
    at === null || (page.layers[at]!.visible && shown(page.layers[at]!.parent))
  const painted = paintPage(page, { widthPx, heightPx, layers: shown })
  const ours = new Map(page.inks.map(({ name }, i) => [name, painted.inks[i]!]))
  const edges = edgePixels(reference)
  const printed = (plane: Uint8Array) => plane.some(value => value > 0)
  const missing = [...reference.planes].filter(([name, plane]) => printed(plane) && !ours.has(name))
  const extra = [...ours].filter(([name, plane]) => printed(plane) && !reference.planes.has(name))
  return {
    inks: [...ours].flatMap(([ink, plane]) => {
      const other = reference.planes.get(ink)
      return other ? [{ ink, ...comparePlanes(plane, other, widthPx, edges) }] : []
    }),
    inside: 1 - edges.reduce((sum, edge) => sum + edge, 0) / edges.length,
    alone: [...missing, ...extra].map(([name]) => name),
    inexact: page.inexact,
    findings: page.findings,
  }
}

/** Largest difference away from edges that is asked for, of 255. */
export const allowedDifference = 2

/** Pages whose planes lie further from the reference's, how far at most, and why; `beyond.test.ts` shows it. */
export const beyond: Partial<Record<PdfPageName, { readonly most: number; readonly reason: string }>> = {
  'axial shadings': {
    most: 5,
    reason: 'where a shading of spot inks is curved, the reference joins points of it by straight lines',
  },
  'shading of a function': {
    most: 3,
    reason: 'where the shading ends with little ink, its edge is fainter than what counts as one',
  },
  'images with profiles': {
    most: 3,
    reason: 'the colour engine of the reference rounds the connection space to whole steps',
  },
  'jpeg of cmyk': {
    most: 3,
    reason:
      'decoders may do the inverse transform in ways of their own (ISO/IEC 10918-2): two of one library lie as far apart',
  },
}
