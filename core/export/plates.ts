import { leftOut } from '../art/composite-findings.ts'
import type { ArtFile, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import type { Lab } from '../color/lab.ts'
import { type CoverageRows, coverageRows, unionRows } from '../material/coverage.ts'
import { type InkRows, inkRows, type Press } from '../material/inks.ts'
import {
  type MadeSource,
  madePlate,
  type Plate,
  platesOf,
  type RoleTable,
  type Source,
  strayInks,
  together,
  whitePlate,
} from '../material/plates.ts'
import type { MapSettings } from '../material/settings.ts'
import { spotColor, spotInk } from '../material/spot-color.ts'
import { solidLab } from '../optics/ink.ts'
import { opacityOf, scatterOf } from '../optics/white.ts'
import { processInk } from '../roles/assign.ts'
import { ancestorsOf } from '../roles/members.ts'
import type { Assigned } from '../roles/role.ts'
import { PackedPlane } from './packed-plane.ts'
import { plateNames, processNames } from './plate-names.ts'
import type { PlateGroup, PlateMade } from './plate-wish.ts'
import type { ProcessingStep } from './processing-steps.ts'

/** What is shown where a device has no such ink. Inks 0..1, or L*a*b* (D50) of the solid on white. */
export type Alternate =
  | { readonly space: 'CMYK'; readonly values: readonly [number, number, number, number] }
  | { readonly space: 'Lab'; readonly values: Lab }

/** One ink of the print, as drawn: what the press makes of its tones is not in it. Unscreened. */
export interface InkPlate {
  readonly name: string
  readonly kind: Exclude<PlateMade['kind'], 'dieline'>
  readonly group: PlateGroup
  readonly alternate: Alternate
  /** Opacity of the solid with all its hits, 0..1; null where nobody counts on one. */
  readonly opacity: number | null
  readonly hits: number
  readonly step: ProcessingStep | null
  /** Coverage of the document's pixels, 255 = solid. */
  readonly plane: PackedPlane
  /** Mean coverage, 0..1, and the part of the art with any, 0..1. */
  readonly coverage: number
  readonly printed: number
}

/** The print of a job as plates, in the order in which they are laid down, white first. */
export interface Separated {
  readonly width: number
  readonly height: number
  readonly plates: readonly InkPlate[]
  /** Names of what the art has and nothing is printed of. */
  readonly empty: readonly string[]
  readonly findings: readonly Finding[]
}

export interface SeparateOptions extends MapSettings {
  readonly assigned: readonly Assigned[]
  readonly press: Press
}

/** Document pixels of all plates that are read at once, and bytes of decoded planes kept meanwhile. */
const stripBudget = 8e6
const keepBudget = 192 * 2 ** 20

/**
 * The plates of a piece of art, pixel by pixel of its document: no map lies between, and a coverage is as the art has
 * it, rounded to 1/255. Inks of the overprint are composited in the art's own colours; grey prints in black, and RGB is
 * separated by the press's profile. Holds packed planes and one strip of each.
 * Throws BadInput for colours that cannot be separated, Cancelled when told to.
 */
export async function separate(file: ArtFile, options: SeparateOptions, task?: Task): Promise<Separated> {
  const { art } = file
  const { width, height } = art
  const findings: Finding[] = [...leftOut(art)]
  const planned = plan(file, options, findings)
  const readers = planned.reduce((sum, one) => sum + one.sources.length, 0) + 2
  const stripRows = Math.max(8, Math.min(height, Math.floor(stripBudget / (width * (readers + 4)))))
  const strips = { rows: stripRows, keep: keepBudget / readers, task: quiet(task) }
  const overprint = overprintOf(file, options.assigned)
  findings.push(...blendFindings(overprint, file))
  const inks = inkRows(file, overprint, options.press, strips, findings)
  const filling = planned.map(one => new Filling(one, file, width, height, strips))
  try {
    for (let top = 0; top < height; top += stripRows) {
      checkCancelled(task)
      task?.progress?.(top / height, 'Separating the art')
      const bottom = Math.min(height, top + stripRows)
      const surface = await inks.over(top, bottom)
      for (const one of filling) await one.add(top, bottom, surface)
    }
  } finally {
    inks.close()
  }
  const done = filling.map(one => one.finish(width * height))
  const filled = done.filter(one => one.printed > 0)
  return {
    width,
    height,
    plates: filled,
    empty: done.filter(one => one.printed === 0).map(one => one.name),
    findings,
  }
}

const quiet = (task: Task | undefined): Task | undefined =>
  task?.signal ? { signal: task.signal } : undefined

type Planned = Omit<InkPlate, 'plane' | 'coverage' | 'printed'> & {
  /** Place of the process ink among C, M, Y, K; -1 for all others. */
  readonly ink: number
  readonly sources: Plate<Source | MadeSource>['sources']
}

/** What is to be read for each plate, laid down first to last. */
function plan(file: ArtFile, options: SeparateOptions, findings: Finding[]): readonly Planned[] {
  const { art } = file
  const roles: RoleTable = new Map(options.assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  const drawn: readonly Plate<Source | MadeSource>[] = platesOf(art, 'white', roles, findings)
  const made = options.made ? [madePlate(options.made)] : []
  const primers = platesOf(art, 'primer', roles, findings)
  const whites = [...drawn, ...made].map(plate => whitePlate(plate, options))
  const spots = [...platesOf(art, 'spotInk', roles, findings), ...strayInks(art, roles, findings)]
  const varnish = together(platesOf(art, 'varnish', roles, findings), 'Varnish')
  const inkOf = spotInk(spotColor(file, options.press), options.spots ?? [])
  const named = plateNames(
    [...primers, ...whites, ...spots, ...(varnish ? [varnish] : [])].map(({ name }) => name),
    findings,
  )
  const [primerNames, whiteNames, spotNames, varnishName] = [
    named.slice(0, primers.length),
    named.slice(primers.length, primers.length + whites.length),
    named.slice(primers.length + whites.length, primers.length + whites.length + spots.length),
    named.at(-1),
  ]
  const channels = art.channels.filter(({ id }) => roles.get(`channel ${id}`)?.role === 'overprint')
  const nothing = { opacity: null, hits: 1, step: null, ink: -1 } as const
  const plain = (values: readonly [number, number, number, number]): Alternate => ({ space: 'CMYK', values })
  return [
    ...primers.map(
      ({ sources }, i): Planned => ({
        ...nothing,
        name: primerNames[i]!,
        kind: 'primer',
        group: 'white',
        alternate: plain([0, 0, 0, 0]),
        step: { group: 'Primer' },
        sources,
      }),
    ),
    ...whites.map(
      ({ sources, opacity, hits }, i): Planned => ({
        ...nothing,
        name: whiteNames[i]!,
        kind: 'white',
        group: 'white',
        // A device without white ink is to print nothing in its place.
        alternate: plain([0, 0, 0, 0]),
        opacity: opacityOf(scatterOf(opacity) * hits),
        hits,
        step: { group: 'White' },
        sources,
      }),
    ),
    ...processNames.map(
      (name, ink): Planned => ({
        ...nothing,
        name,
        kind: 'process',
        group: 'inks',
        alternate: plain([ink === 0 ? 1 : 0, ink === 1 ? 1 : 0, ink === 2 ? 1 : 0, ink === 3 ? 1 : 0]),
        ink,
        sources: channels
          .filter(channel => processInk(channel.name) === 'CMYK'[ink])
          .map((channel): Source => ({ kind: 'channel', channel })),
      }),
    ),
    ...spots.map((plate, i): Planned => {
      const name = spotNames[i]!
      const lab = solidLab(inkOf(plate))
      if (lab === null) findings.push(colourUnknown(name))
      return {
        ...nothing,
        name,
        kind: 'spot',
        group: 'inks',
        alternate: lab === null ? plain([0, 0, 0, 0.5]) : { space: 'Lab', values: lab },
        sources: plate.sources,
      }
    }),
    ...(varnish
      ? [
          {
            ...nothing,
            name: varnishName!,
            kind: 'varnish' as const,
            group: 'varnish' as const,
            alternate: plain([0, 0, 0.08, 0]),
            step: { group: 'Varnish' as const },
            sources: varnish.sources,
          },
        ]
      : []),
  ]
}

/** Layers that print in process inks. */
function overprintOf({ art }: ArtFile, assigned: readonly Assigned[]): readonly Layer[] {
  const ids = new Set(
    assigned.flatMap(({ role, target }) =>
      role === 'overprint' && target.kind === 'layer' ? [target.id] : [],
    ),
  )
  return art.layers.filter(layer => layer.kind !== 'group' && ids.has(layer.id))
}

/** One plate as its strips come. */
class Filling {
  readonly #one: Planned
  readonly #sources: readonly CoverageRows[]
  readonly #plane: PackedPlane
  readonly #width: number
  #sum = 0
  #printed = 0

  constructor(
    one: Planned,
    file: ArtFile,
    width: number,
    height: number,
    strips: Parameters<typeof coverageRows>[2],
  ) {
    this.#one = one
    this.#width = width
    this.#plane = new PackedPlane(width, height)
    this.#sources = one.sources.map(source => coverageRows(file, source, strips, 'amount'))
  }

  async add(top: number, bottom: number, inks: Awaited<ReturnType<InkRows['over']>>): Promise<void> {
    const width = this.#width
    const { data } = await unionRows(this.#sources, width, top, bottom)
    const { ink } = this.#one
    if (inks && ink >= 0) {
      const { box } = inks
      const across = box.right - box.left
      for (let y = Math.max(top, box.top); y < Math.min(bottom, box.bottom); y++)
        for (let x = Math.max(0, box.left); x < Math.min(width, box.right); x++) {
          const at = (y - top) * width + x
          const part = inks.read(ink, (y - box.top) * across + x - box.left)
          // Where a channel prints over layers in the same ink, both print.
          data[at] = 1 - (1 - data[at]!) * (1 - Math.min(1, Math.max(0, part)))
        }
    }
    const rows = new Uint8Array(data.length)
    for (let i = 0; i < rows.length; i++) {
      const value = Math.round(255 * Math.min(1, Math.max(0, data[i]!)))
      rows[i] = value
      this.#sum += value
      if (value > 0) this.#printed++
    }
    this.#plane.push(rows)
  }

  finish(pixels: number): InkPlate {
    const { ink: _, sources: __, ...plate } = this.#one
    return {
      ...plate,
      plane: this.#plane,
      coverage: this.#sum / 255 / pixels,
      printed: this.#printed / pixels,
    }
  }
}

/** Blends that reach below their own layer are worked out between process inks, and cannot reach white or spot inks. */
function blendFindings(layers: readonly Layer[], { art }: ArtFile): readonly Finding[] {
  const shown = layers.filter(layer => layer.visible && ancestorsOf(art, layer).every(group => group.visible))
  const blended = shown.filter(
    ({ blendMode, clipped }) => !clipped && blendMode !== 'normal' && blendMode !== 'passThrough',
  )
  if (blended.length === 0) return []
  const names = blended.slice(0, 3).map(({ name, blendMode }) => `"${name}" (${blendMode})`)
  const more = blended.length > names.length ? ` and ${blended.length - names.length} more` : ''
  return [
    {
      severity: 'note',
      code: 'blend-flattened',
      where: 'inks',
      message: `${names.join(', ')}${more}: what they blend with is worked into the process inks; white and spot inks below are not part of it`,
      fix: 'Look at the plates there.',
    },
  ]
}

const colourUnknown = (name: string): Finding => ({
  severity: 'warning',
  code: 'ink-colour-unknown',
  where: `spot ink "${name}"`,
  message: 'neither the job nor the file says its colour; where a device lacks the ink, grey stands for it',
  fix: 'Give its colour in the job.',
})
