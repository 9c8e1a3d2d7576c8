import type { Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import { boxWidth } from './box.ts'
import { compositeStrips, type Surface } from './composite.ts'
import { samplesOver } from './composite-planes.ts'
import { type ArtFile, type ColorMode, processCount } from './layer.ts'

/** How far our picture of the layers is from the file's own. */
export interface CompositeDifference {
  /** Decibels over all process planes, full scale = 1; Infinity when equal. The picture is taken on white paper. */
  readonly psnr: number
  /** The same of the transparency plane; null when the file has none. */
  readonly alphaPsnr: number | null
  /** Largest difference of one sample, 0..1, and its place, document pixels. */
  readonly largest: number
  readonly at: readonly [number, number]
}

/** Why there is nothing to compare. */
export interface NotComparable {
  readonly reason: string
}

export async function compositeDifference(
  file: ArtFile,
  task?: Task,
): Promise<CompositeDifference | NotComparable> {
  const { art } = file
  if (file.paintLayers) return { reason: 'a file that is drawn: its picture is made of its layers' }
  if (!art.hasComposite) return { reason: 'saved without a picture of its own' }
  if (art.layers.every(layer => layer.kind === 'flat')) return { reason: 'no layers' }
  const alphaPlane = art.channels.find(channel => channel.kind === 'transparency')?.plane ?? null
  const sums = { color: 0, colorCount: 0, alpha: 0, alphaCount: 0, largest: 0, x: 0, y: 0 }
  for await (const strip of compositeStrips(file, {}, task)) {
    for (let p = 0; p < processCount(art.colorMode); p++) {
      const theirs = samplesOver(await file.documentPlane(p, strip.box), strip.box, 0)
      const paper = paperSample(art.colorMode, p)
      addDifferences(
        sums,
        strip,
        i => strip.planes[p]![i]! * strip.alpha[i]! + paper * (1 - strip.alpha[i]!),
        theirs,
      )
    }
    if (alphaPlane === null) continue
    const theirs = samplesOver(await file.documentPlane(alphaPlane, strip.box), strip.box, 0)
    for (let i = 0; i < theirs.length; i++) sums.alpha += (theirs[i]! - strip.alpha[i]!) ** 2
    sums.alphaCount += theirs.length
  }
  return {
    psnr: decibels(sums.color, sums.colorCount),
    alphaPsnr: alphaPlane === null ? null : decibels(sums.alpha, sums.alphaCount),
    largest: sums.largest,
    at: [sums.x, sums.y],
  }
}

/** The difference as a finding of the document, for people. */
export function differenceFinding(difference: CompositeDifference): Finding | null {
  const psnr = Math.min(difference.psnr, difference.alphaPsnr ?? difference.psnr)
  if (psnr >= 40) return null
  return {
    severity: 'warning',
    code: 'composite-differs',
    where: `pixel ${difference.at[0]}, ${difference.at[1]}`,
    message: `our picture of the layers is ${psnr.toFixed(1)} dB from the file's own (40 dB or more looks the same)`,
    fix: 'Look for layers with effects, adjustments or missing pixels, and turn them into plain pixels.',
  }
}

interface Sums {
  color: number
  colorCount: number
  largest: number
  x: number
  y: number
}

function addDifferences(sums: Sums, strip: Surface, ours: (i: number) => number, theirs: Float32Array): void {
  const width = boxWidth(strip.box)
  for (let i = 0; i < theirs.length; i++) {
    const d = Math.abs(ours(i) - theirs[i]!)
    sums.color += d * d
    if (d > sums.largest) {
      sums.largest = d
      sums.x = strip.box.left + (i % width)
      sums.y = strip.box.top + Math.floor(i / width)
    }
  }
  sums.colorCount += theirs.length
}

const decibels = (sum: number, count: number): number =>
  sum === 0 ? Number.POSITIVE_INFINITY : 10 * Math.log10(count / sum)

/** Flattened pictures of transparent documents stand on white. */
function paperSample(mode: ColorMode, plane: number): number {
  return mode === 'Lab' && plane > 0 ? 128 / 255 : 1
}
