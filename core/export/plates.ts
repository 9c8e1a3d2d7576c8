import { leftOut } from '../art/composite-findings.ts'
import type { ArtFile, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { type CoverageRows, coverageRows, unionRows } from '../material/coverage.ts'
import { type InkRows, inkRows } from '../material/inks.ts'
import { knockingLayers } from '../roles/knocking.ts'
import { ancestorsOf } from '../roles/members.ts'
import type { Assigned } from '../roles/role.ts'
import type { InkPlate, SeparateOptions } from './ink-plate.ts'
import { PackedPlane } from './packed-plane.ts'
import { type PlannedPlate, planPlates } from './plate-plan.ts'

/** The print of a job as plates, in the order in which they are laid down, white first. */
export interface Separated {
  readonly width: number
  readonly height: number
  readonly plates: readonly InkPlate[]
  /** Names of what the art has and nothing is printed of. */
  readonly empty: readonly string[]
  readonly findings: readonly Finding[]
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
  const planned = planPlates(file, options, findings)
  const readers = planned.reduce((sum, one) => sum + one.sources.length, 0) + 2
  const stripRows = Math.max(8, Math.min(height, Math.floor(stripBudget / (width * (readers + 4)))))
  const strips = { rows: stripRows, keep: keepBudget / readers, task: quiet(task) }
  const overprint = overprintOf(file, options.assigned)
  findings.push(...blendFindings(overprint, file))
  const knocking = knockingLayers(art, options.assigned)
  const inks = inkRows(file, { layers: overprint, knocking }, options.press, strips, findings)
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
  readonly #one: PlannedPlate
  readonly #sources: readonly CoverageRows[]
  readonly #plane: PackedPlane
  readonly #width: number
  #sum = 0
  #printed = 0

  constructor(
    one: PlannedPlate,
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
