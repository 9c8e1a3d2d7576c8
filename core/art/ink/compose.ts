import { separable } from '../blend.ts'
import { colorBlend } from '../blend-color.ts'
import { type InkBlend, processCount } from './mark.ts'
import { type Runs, varied } from './runs.ts'
import type { Process, Surface } from './surface.ts'

/**
 * Lays one tint over a row, normal, outside knock-out groups: α C becomes (1 − αs) α C + αs Cs (ISO 32000-2, 11.3.3 with
 * B(Cb, Cs) = Cs). Opacity follows the same formula with 1 for the tint.
 * @param planes  those that change: α C of the inks, and the opacity
 * @param values  what each is painted with
 * @param at      where in the planes the runs' pixel 0 lies
 */
export function layTint(
  planes: readonly Float32Array[],
  values: ArrayLike<number>,
  runs: Runs,
  at: number,
  opacity: number,
): void {
  for (let r = 0; r < runs.count; r++) {
    const from = runs.from[r]!
    const to = runs.to[r]!
    const cover = runs.value[r]!
    const share = cover * opacity
    for (let k = 0; k < planes.length; k++) {
      const plane = planes[k]!
      const value = values[k]!
      if (cover === varied) {
        for (let x = from; x < to; x++) {
          const was = plane[at + x]!
          plane[at + x] = was + runs.cover[x]! * opacity * (value - was)
        }
      } else if (share === 1) plane.fill(value, at + from, at + to)
      else
        for (let i = at + from; i < at + to; i++) {
          const was = plane[i]!
          plane[i] = was + share * (value - was)
        }
    }
  }
}

/** A row of a source: a mark, or a group as it came out. All by pixel of the box that it is painted in. */
export interface SourceRow {
  /** Column of the page that the row begins with. */
  readonly left: number
  /** Pixels that it may cover: the first, and the one after the last. */
  from: number
  to: number
  /** fs: how much of each pixel lies inside it. */
  readonly shape: Float32Array
  /** αs = fs · opacity. */
  readonly alpha: Float32Array
  /** Cs of each ink of the surface; null where it does not paint the ink. */
  readonly colors: readonly (Float32Array | null)[]
  readonly overprint: boolean
  readonly blend: InkBlend
}

/**
 * Composes rows with a surface, whatever they are. For each ink (ISO 32000-2, 11.4.8, multiplied by the resulting α)
 *
 *     α C = (1 − fs) α C + (fs − αs) αb Cb + αs ((1 − αb) Cs + αb B(Cb, Cs))
 *
 * where b is what lies there so far or, in a knock-out group, what the group began on. An ink that the source does not
 * paint has Cs = 0 and is knocked out; under overprint B gives Cb for it instead (11.7.4.3), which leaves α C as it was.
 * With another blend mode an overprinting mark counts as a group of its own, not isolated, of which such an ink comes
 * out as αb Cb (11.7.4.3; the sum of 11.4.8 for one element).
 */
export class Composer {
  readonly #alphaBelow: Float32Array
  readonly #mixed: readonly Float32Array[]
  readonly #unpainted: Float32Array
  readonly #nothing: Float32Array

  /** @param width  pixels of the longest row */
  constructor(width: number) {
    const row = () => new Float32Array(width)
    this.#alphaBelow = row()
    this.#mixed = [row(), row(), row(), row()]
    this.#unpainted = row()
    this.#nothing = row()
  }

  /** @param at  where in the surface's planes the row begins */
  lay(surface: Surface, at: number, source: SourceRow): void {
    const normal = source.blend === 'normal'
    if (!normal) this.#seeBelow(surface, at, source)
    const whole = normal ? null : this.#mixWhole(surface, at, source)
    for (let k = 0; k < surface.count; k++) {
      const color = source.colors[k] ?? null
      const mixed = whole !== null && k < whole.length ? whole[k]! : null
      if (mixed === null && (normal || keepsPlain(source.blend, surface.process, k))) {
        // Overprint of an unpainted ink with a mode that acts as normal on it: αb Cb laid over Cb, or Cb itself.
        if (color === null && source.overprint) {
          if (surface.knockout) this.#restore(surface, k, at, source)
          continue
        }
        // Nothing to be put down, and nothing that it could knock out.
        if (color === null && surface.plane(k) === null) continue
        this.#update(surface, k, at, source, color ?? this.#nothing)
      } else this.#update(surface, k, at, source, mixed ?? this.#mix(surface, k, at, source))
    }
    layOpacity(surface, at, source)
  }

  /** αb of each pixel. */
  #seeBelow(surface: Surface, at: number, { from, to }: SourceRow): void {
    const below = this.#alphaBelow
    const started = surface.backdrop?.alpha
    for (let x = from; x < to; x++) {
      const begun = started === undefined ? 0 : started[at + x]!
      const own = surface.knockout ? 0 : surface.alpha[at + x]!
      below[x] = begun + own - begun * own
    }
  }

  /** α C of an ink of what lies below. */
  #below(surface: Surface, ink: number): Float32Array | null {
    return surface.knockout ? (surface.backdrop?.plane(ink) ?? null) : surface.plane(ink)
  }

  /** Cs of an ink: painted, or nothing, or what the implicit group of overprint gives. */
  #color(surface: Surface, ink: number, at: number, source: SourceRow): Float32Array {
    const color = source.colors[ink] ?? null
    if (color !== null) return color
    const below = source.overprint ? this.#below(surface, ink) : null
    if (below === null) return this.#nothing
    this.#unpainted.set(below.subarray(at + source.from, at + source.to), source.from)
    return this.#unpainted
  }

  /** (1 − αb) Cs + αb B(Cb, Cs) of one ink. Modes are defined for light: ink is 1 − light (11.7.4.2). */
  #mix(surface: Surface, ink: number, at: number, source: SourceRow): Float32Array {
    const blend = separable[source.blend as keyof typeof separable]
    const below = this.#below(surface, ink)
    const color = this.#color(surface, ink, at, source)
    const alphaBelow = this.#alphaBelow
    const out = this.#mixed[0]!
    for (let x = source.from; x < source.to; x++) {
      const a = alphaBelow[x]!
      const cs = color[x]!
      if (a === 0 || source.alpha[x] === 0) {
        out[x] = cs
        continue
      }
      const cb = below === null ? 0 : Math.min(1, below[at + x]! / a)
      out[x] = (1 - a) * cs + a * (1 - blend(1 - cb, 1 - cs))
    }
    return out
  }

  /** The same of the process inks for modes that need a whole colour (11.3.5.3); null for others. */
  #mixWhole(surface: Surface, at: number, source: SourceRow): readonly Float32Array[] | null {
    if (isSeparable(source.blend) || surface.process === 'none') return null
    const blend = colorBlend(source.blend as 'hue')!
    const three = surface.process === 'Gray' ? 1 : 3
    const count = Math.min(surface.count, surface.process === 'CMYK' ? 4 : three)
    const below = Array.from({ length: count }, (_, k) => this.#below(surface, k))
    const colors = Array.from({ length: count }, (_, k) => this.#color(surface, k, at, source).slice())
    const b: [number, number, number] = [0, 0, 0]
    const s: [number, number, number] = [0, 0, 0]
    const mixed: [number, number, number] = [0, 0, 0]
    for (let x = source.from; x < source.to; x++) {
      const a = this.#alphaBelow[x]!
      const of = (k: number) => (a === 0 ? 0 : Math.min(1, (below[k]?.[at + x] ?? 0) / a))
      for (let k = 0; k < 3; k++) {
        b[k] = 1 - of(Math.min(k, three - 1))
        s[k] = 1 - colors[Math.min(k, three - 1)]![x]!
      }
      blend(b, s, mixed)
      for (let k = 0; k < count; k++) {
        const cs = colors[k]![x]!
        // Black comes from the source for luminosity, from the backdrop for the others.
        const result = k < three ? 1 - mixed[k]! : source.blend === 'luminosity' ? cs : of(k)
        this.#mixed[k]![x] = (1 - a) * cs + a * result
      }
    }
    return this.#mixed.slice(0, count)
  }

  #update(surface: Surface, ink: number, at: number, source: SourceRow, mixed: Float32Array): void {
    const { shape, alpha, left, from, to } = source
    const plane = surface.write(ink, left + from, left + to)
    if (!surface.knockout) {
      for (let x = from; x < to; x++) {
        const was = plane[at + x]!
        plane[at + x] = was + alpha[x]! * (mixed[x]! - was)
      }
      return
    }
    const below = surface.backdrop?.plane(ink) ?? null
    for (let x = from; x < to; x++) {
      const begun = below === null ? 0 : below[at + x]!
      plane[at + x] =
        (1 - shape[x]!) * plane[at + x]! + (shape[x]! - alpha[x]!) * begun + alpha[x]! * mixed[x]!
    }
  }

  /** Of a knock-out group: an ink that the mark leaves alone goes back to what the group began on. */
  #restore(surface: Surface, ink: number, at: number, source: SourceRow): void {
    // What was never changed is what the group began on.
    if (!surface.isChanged(ink)) return
    const plane = surface.write(ink, source.left + source.from, source.left + source.to)
    const below = surface.backdrop?.plane(ink) ?? null
    for (let x = source.from; x < source.to; x++) {
      const begun = below === null ? 0 : below[at + x]!
      plane[at + x]! += source.shape[x]! * (begun - plane[at + x]!)
    }
  }
}

/** Opacity and shape of the group: 11.4.8, α g and f g. */
function layOpacity(surface: Surface, at: number, source: SourceRow): void {
  const { alpha, shape } = surface
  for (let x = source.from; x < source.to; x++) {
    const a = source.alpha[x]!
    alpha[at + x] = alpha[at + x]! * (1 - (surface.knockout ? source.shape[x]! : a)) + a
    if (shape !== null) shape[at + x]! += source.shape[x]! * (1 - shape[at + x]!)
  }
}

const isSeparable = (blend: InkBlend): boolean => blend in separable

/**
 * Whether a mode acts as normal on an ink: spot inks know only modes that work on one ink and leave white white
 * (ISO 32000-2, 11.7.4.2).
 */
function keepsPlain(blend: InkBlend, process: Process, ink: number): boolean {
  if (process !== 'none' && ink < processCount[process]) return false
  return !isSeparable(blend) || blend === 'difference' || blend === 'exclusion'
}
