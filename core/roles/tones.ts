import { compositeStrips } from '../art/composite.ts'
import type { ArtFile, Layer } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import { justThese, reachOf } from './members.ts'
import { type Rgb, rgbReader, type Tone, toneOf } from './tone.ts'

/** What a layer is painted with, counted over its painted pixels. Parts are 0..1 of them. */
export interface ToneCount {
  /** Painted pixels over all pixels of the document. */
  readonly covered: number
  /** Part that is not see-through. */
  readonly opaque: number
  /** Part by lightness, `steps` equal steps from black to white. */
  readonly lightness: readonly number[]
  /** Part that has a colour of its own (chroma above 0.15). */
  readonly coloured: number
  /** Of the coloured part, by hue: six sixths, the first one around red. */
  readonly hues: readonly number[]
  /** Part that is black ink alone or bare paper: no red, green or blue in it. */
  readonly neutral: number
}

export const lightnessSteps = 20
/** About this many pixels are looked at; more would not change the answer. */
const enough = 400_000

/** Counts of a file's layers stay with the file: roles, effects and every rebuilt map ask for them. */
const counted = new WeakMap<ArtFile, Map<string, ToneCount>>()

export async function countTones(file: ArtFile, layers: readonly Layer[], task?: Task): Promise<ToneCount> {
  const key = JSON.stringify(layers.map(layer => layer.id))
  const known = counted.get(file) ?? new Map<string, ToneCount>()
  counted.set(file, known)
  const old = known.get(key)
  if (old) return old
  const made = await count(file, layers, task)
  known.set(key, made)
  return made
}

async function count(file: ArtFile, layers: readonly Layer[], task: Task | undefined): Promise<ToneCount> {
  const { art } = file
  const region = reachOf(art, layers)
  const pixels = (region.right - region.left) * (region.bottom - region.top)
  const step = Math.max(1, Math.floor(Math.sqrt(pixels / enough)))
  const lightness = new Float64Array(lightnessSteps)
  const hues = new Float64Array(6)
  let painted = 0
  let opaque = 0
  let coloured = 0
  let neutral = 0
  if (pixels > 0) {
    const rgb = rgbReader(art)
    const colour: Rgb = [0, 0, 0]
    const tone: Tone = { lightness: 0, hue: 0, chroma: 0 }
    for await (const strip of compositeStrips(file, { ...justThese(art, layers), region }, task)) {
      const width = strip.box.right - strip.box.left
      for (let y = firstOn(strip.box.top, step); y < strip.box.bottom; y += step)
        for (let x = 0; x < width; x += step) {
          const i = (y - strip.box.top) * width + x
          const alpha = strip.alpha[i]!
          if (alpha < 0.02) continue
          painted++
          if (alpha > 0.98) opaque++
          toneOf(rgb(strip, i, colour), tone)
          lightness[Math.min(lightnessSteps - 1, Math.floor(tone.lightness * lightnessSteps))]!++
          if (tone.chroma < 0.04) neutral++
          if (tone.chroma > 0.15) {
            coloured++
            hues[Math.floor(tone.hue * 6 + 0.5) % 6]!++
          }
        }
    }
  }
  const part = (count: number, of: number) => (of === 0 ? 0 : count / of)
  return {
    covered: part(painted * step * step, art.width * art.height),
    opaque: part(opaque, painted),
    lightness: Array.from(lightness, count => part(count, painted)),
    coloured: part(coloured, painted),
    hues: Array.from(hues, count => part(count, coloured)),
    neutral: part(neutral, painted),
  }
}

const firstOn = (row: number, step: number) => Math.ceil(row / step) * step

/** Drawn in the colours of a rainbow: mostly coloured, and in at least three sixths of the hue circle. */
export function isRainbow(tones: ToneCount): boolean {
  return tones.coloured > 0.5 && tones.hues.filter(part => part > 0.06).length >= 3
}
