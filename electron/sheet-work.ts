import { BadInput } from '../core/base/finding.ts'
import { checkCancelled, partOf, type Task } from '../core/base/task.ts'
import { heldWords } from '../core/checks/glare/held-words.ts'
import type { CheckList } from '../core/checks/run.ts'
import { areaRows } from '../core/export/area-rows.ts'
import type { SheetPicture } from '../core/export/pdf/flow.ts'
import type { Captioned } from '../core/export/pdf/picture-grid.ts'
import {
  type FoundPoses,
  foundTitles,
  lightStill,
  type Still,
  stillsOf,
} from '../core/export/stills/still-list.ts'
import { type SwatchTables, swatchOf } from '../core/export/swatch.ts'
import type { Job } from '../core/job/job.ts'
import { rigs } from '../core/job/rigs.ts'
import { solidOf } from '../core/job/solid.ts'
import type { MaterialMap } from '../core/material/map.ts'
import type { Note } from '../core/proof/notes.ts'
import type { ProofVersion } from '../core/proof/version.ts'
import { displayPicture } from '../core/reference/display-picture.ts'
import type { JobPictures } from './picture-work.ts'

/** What a sheet says that its job does not. */
export interface SheetOrder {
  readonly version: ProofVersion
  readonly notes: readonly Note[]
  /** Width of its large pictures. */
  readonly pixels?: number
}

/** Pictures of a sheet: large ones of found frames, smaller ones of lights, at about 220 ppi on paper. */
export interface SheetPictures {
  readonly found: readonly Captioned[]
  readonly lights: readonly Captioned[]
  readonly swatches: ReadonlyMap<number, readonly SheetPicture[]>
}

export const usualPixels = 500
/** Width of a small picture over that of a large one, and that of a record's pictures. */
const smallPart = 0.72
const recordPixels = 360
/** Width over height that pictures may have, so that all of a sheet lie well on a page. */
const shapes = [0.8, 1.5] as const

/**
 * Throws Cancelled when told to stop.
 * @param checked what the checks found, with the frames of the glare check
 */
export function sheetPictures(
  job: Job,
  map: MaterialMap,
  checked: CheckList,
  pictures: JobPictures,
  largeWidth: number,
  task: Task,
): SheetPictures {
  const smallWidth = Math.round(smallPart * largeWidth)
  const aspect = aspectOf(job)
  const found = foundFrames(checked)
  const large = found.map(({ kind, says }) => {
    const poses = Object.fromEntries(found.map(one => [one.kind, one.held])) as FoundPoses
    return { stills: stillsOf(job, [kind], poses, aspect), says, title: foundTitles[kind] }
  })
  const [shown] = stillsOf(job, ['shown'], null, aspect)
  const lights = [shown!, ...rigs.map(rig => lightStill(job, rig))]
  const wholeWork = large.length * largeWidth ** 2 + lights.length * smallWidth ** 2
  let done = 0
  const drawn = (still: Still, width: number): SheetPicture => {
    const from = (0.9 * done) / wholeWork
    done += width ** 2
    const part = partOf(task, from, (0.9 * done) / wholeWork)
    return screenPicture(still, width, Math.round(width / aspect), pictures, {
      ...part,
      progress: at => part.progress?.(at, still.title),
    })
  }
  return {
    found: large.flatMap(({ stills, says, title }) =>
      stills.map(still => ({ picture: drawn(still, largeWidth), title, says })),
    ),
    lights: lights.map((still, i) => ({
      picture: drawn(still, smallWidth),
      title: still.title,
      says: i === 0 ? `held ${still.held}` : rigs[i - 1]!.says,
    })),
    swatches: swatchesOf(job, map, partOf(task, 0.9, 1)),
  }
}

/** Pictures of a record: as the job has it, worst glare, best, darkest. Throws Cancelled when told to stop. */
export function recordPictures(
  job: Job,
  found: FoundPoses,
  pictures: JobPictures,
  task: Task,
): readonly Captioned[] {
  const aspect = aspectOf(job)
  const stills = stillsOf(job, ['shown', 'glare', 'best', 'darkest'], found, aspect)
  return stills.map((still, i) => {
    const part = partOf(task, i / stills.length, (i + 1) / stills.length)
    const picture = screenPicture(still, recordPixels, Math.round(recordPixels / aspect), pictures, part)
    return { picture, title: still.title, says: `held ${still.held}` }
  })
}

function aspectOf(job: Job): number {
  const { widthMm, heightMm } = solidOf(job) ?? job.panel
  return Math.min(shapes[1], Math.max(shapes[0], widthMm / heightMm))
}

/** The frames of the whole carton among the findings, worst glare first. */
function foundFrames({ findings }: CheckList) {
  const keys = {
    glare: 'glare-worst carton',
    darkest: 'dark-worst carton',
    best: 'best-view carton',
  } as const
  return (['glare', 'best', 'darkest'] as const).flatMap(kind => {
    const one = findings.find(({ key }) => key === keys[kind])
    if (one?.held == null) return []
    // The message says what was measured after how it is held.
    const measured = one.message.split(': ').slice(1).join(': ')
    return [{ kind, held: one.held, says: `${measured}; held ${heldWords(one.held)}` }]
  })
}

/** What a page shows: sRGB, whatever screen the job is set to. */
function screenPicture(
  { scene, zoom }: Still,
  width: number,
  height: number,
  pictures: JobPictures,
  task: Task,
): SheetPicture {
  const shown = { ...scene, view: { ...scene.view, gamut: 'srgb' as const } }
  const light = pictures.light(shown, width, height, zoom, task)
  return { width, height, rgb: Uint8Array.from(displayPicture(light, shown, 8)) }
}

/** Frames of a swatch: tilted nearer, straight, away. */
const swatchFrames = [9, 0, 3] as const
/** Past them a table of areas is read, not looked at. */
const mostSwatches = 40

function swatchesOf(job: Job, map: MaterialMap, task: Task): SheetPictures['swatches'] {
  const tables: SwatchTables = new Map()
  const rows = areaRows(job, map).slice(0, mostSwatches)
  return new Map(
    rows.flatMap(({ area, spec }, i) => {
      checkCancelled(task)
      task.progress?.(i / rows.length, 'swatches')
      const pictures = spec === null ? null : swatchPictures(spec, tables)
      return pictures === null ? [] : [[area.id, pictures] as const]
    }),
  )
}

/** Null for an effect whose numbers or pictures do not make a swatch. */
function swatchPictures(
  spec: Parameters<typeof swatchOf>[0],
  tables: SwatchTables,
): readonly SheetPicture[] | null {
  try {
    const { width, height, data } = swatchOf(spec, tables)
    const size = 3 * width * height
    return swatchFrames.map(i => ({ width, height, rgb: data.subarray(i * size, (i + 1) * size) }))
  } catch (error) {
    if (error instanceof BadInput) return null
    throw error
  }
}
