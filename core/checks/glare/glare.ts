import { partOf, type Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { type AppliedLimit, applied } from '../limits.ts'
import { allPixels, type MapPixels, pixelsOfAreas } from '../sweep/map-pixels.ts'
import { degreesOf, type Steps, usualGrid, usualTurns, viewsOf } from '../sweep/view-grid.ts'
import { brightPixels } from './bright-pixels.ts'
import { settled } from './climb.ts'
import { type Flash, FlashSeeker, mirrorsOf } from './flashes.ts'
import { type Fineness, type Frames, framesOf } from './frames.ts'
import { heldWords } from './held-words.ts'
import { glareLimits } from './limits.ts'
import { NoteBook } from './place-notes.ts'
import { type Frame, type Subject, subjectOf } from './subject.ts'

/** Frames of the whole carton and of each area of holography, for pictures and pins. */
export interface GlareReport {
  /** Null where the carton is never in sight, or the map has no pixels. */
  readonly whole: SubjectFrames | null
  readonly areas: readonly (SubjectFrames & { readonly id: number })[]
}

export interface SubjectFrames extends Pick<Subject, 'name' | 'box'> {
  readonly frames: Frames
}

/** Places of the whole carton, and of an area. */
const ofWhole: Fineness = { scout: 40, climb: 200 }
const ofArea: Fineness = { scout: 28, climb: 160 }
/** Wide steps: cells are looked over whole, and what is found is climbed from. */
const searchTilts: Steps = { fromDeg: -60, count: 13, stepDeg: 10 }
/** Held far to a side too it may be darker than in any view. */
const sideTurns: Steps = { fromDeg: 0, count: 12, stepDeg: 30 }
/** Places of an area whose cells are looked over for flashes, and how many of those are gone after. */
const flashPlaces = 3
const flashesAfter = 4

/** What the check finds, as numbers. Throws Cancelled when told to stop. */
export function glareReport(
  input: Pick<CheckInput, 'map' | 'scene' | 'sets' | 'limits'>,
  task?: Task,
  known: Known = { book: new NoteBook(), bright: brightPixels(input.map) },
): GlareReport {
  const { book, bright } = known
  book.open()
  const { map, scene, sets, limits } = input
  const glare = applied('glare-luminance', glareLimits['glare-luminance'], limits).value
  const [lamp] = usualGrid(scene).lamps
  const views = viewsOf({ lamps: [lamp!], tilts: searchTilts, turns: usualTurns })
  const straight = views.map(({ pose }) => pose)
  const sideways = degreesOf(sideTurns).flatMap(turnDeg =>
    [-60, 60].flatMap(tiltForwardDeg =>
      [-40, 40].map((tiltSideDeg): PanelPose => ({ tiltForwardDeg, tiltSideDeg, turnDeg })),
    ),
  )
  const subject = (name: string, key: string, pixels: MapPixels): Subject | null =>
    subjectOf(scene, map, sets, name, pixels, {
      bright,
      notes: (set, words) => book.notes(`${key}, ${set}`, words),
    })
  const pixelsOf = pixelsOfAreas(map)
  const areas = map.areas.flatMap(({ id, name }) => {
    const pixels = pixelsOf.get(id)
    const own = pixels && subject(name, `area ${id}`, pixels)
    return own ? [{ id, subject: own, faces: own.faces(flashPlaces) }] : []
  })
  const seeker = new FlashSeeker(views)
  const flashes = seeker.of(
    areas.map(one => ({ scene, faces: one.faces })),
    partOf(task, 0, 0.3),
  )
  const found = (
    own: Subject,
    around: readonly PanelPose[],
    after: readonly PanelPose[],
    fineness: Fineness,
    part: Task,
  ) => {
    const given = [...after, ...mirrorsOf(own, own.faces(fineness.scout))].map(settled)
    const frames = framesOf(own, glare, [...straight, ...around, ...sideways], given, fineness, part)
    return frames === null ? [] : [{ name: own.name, box: own.box, frames }]
  }
  const brightest = (all: readonly Flash[]) => all.slice(0, flashesAfter).map(({ pose }) => pose)
  const share = (i: number): Task =>
    partOf(task, 0.3 + (0.7 * i) / (areas.length + 1), 0.3 + (0.7 * (i + 1)) / (areas.length + 1))
  const each = areas.flatMap(({ id, subject: own }, i) =>
    found(
      own,
      flashes[i]!.map(({ pose }) => settled(pose)),
      brightest(flashes[i]!),
      ofArea,
      share(i),
    ).map(one => ({ ...one, id })),
  )
  const carton = subject('the whole carton', 'whole', allPixels(map))
  // The carton is at its brightest, darkest and best much as one of its areas is, or as a mirror.
  const ofAreas = each.flatMap(({ frames }) => Object.values<Frame>({ ...frames }).map(({ pose }) => pose))
  const [whole = null] =
    carton === null
      ? []
      : found(carton, [], [...ofAreas, ...flashes.flatMap(brightest)], ofWhole, share(areas.length))
  book.close()
  return { whole, areas: each }
}

export const glareCheck: CheckPart = {
  name: 'glare',
  says: 'Where the carton dazzles, where it goes dark, and how it looks best',
  run: async (input, task) => glareFindings(glareReport(input, task, await knownOf(input)), input),
}

/** What goes on from check to check. */
interface Known {
  readonly book: NoteBook
  /** By `brightPixels`. */
  readonly bright: Uint8Array
}

/** Light of a place goes by its matter, so what was worked out stays good while all else that it depends on does. */
async function knownOf(input: CheckInput): Promise<Known> {
  const { scene, sets, map } = input
  const { whites, spots, varnish, gratings, grooves, viewSets } = map
  const { width, height, widthMm, heightMm } = map
  const size = [width, height, widthMm, heightMm]
  const word = JSON.stringify([scene, size, whites, spots, varnish, gratings, grooves, viewSets])
  return {
    book: await kept(input, 'glare, places', [word, ...sets], () => new NoteBook()),
    // A plane as large as the map, made in a moment: not kept.
    bright: brightPixels(map),
  }
}

/** Findings of a report: all three frames of the carton; of an area only what passes a limit. */
export function glareFindings(
  { whole, areas }: GlareReport,
  { limits }: Pick<CheckInput, 'limits'>,
): readonly CheckFinding[] {
  const glare = applied('glare-luminance', glareLimits['glare-luminance'], limits)
  const dark = applied('dark-luminance', glareLimits['dark-luminance'], limits)
  const ofWhole =
    whole === null
      ? []
      : [worstGlare('carton', whole, glare), darkest('carton', whole, dark), bestView(whole)]
  return [
    ...ofWhole,
    ...areas.flatMap(area => [
      ...(area.frames.glare.luminance > glare.value
        ? [worstGlare(`area ${area.name} ${area.id}`, area, glare)]
        : []),
      ...(area.frames.darkest.luminance < dark.value
        ? [darkest(`area ${area.name} ${area.id}`, area, dark)]
        : []),
    ]),
  ]
}

const worstGlare = (
  key: string,
  { name, box, frames: { glare } }: SubjectFrames,
  limit: AppliedLimit,
): CheckFinding => ({
  ...noted(glare),
  code: 'glare-worst',
  key: `glare-worst ${key}`,
  where: name,
  box,
  message: `brightest held ${heldWords(glare.pose)}: ${times(glare.luminance)} as bright as white paper`,
  fix:
    glare.luminance > limit.value
      ? 'Look at this frame. Keep small print and codes out of it, or lay white or a coarser holography there.'
      : 'Nothing to do; the frame is good evidence for a proof.',
  measured: { value: glare.luminance, unit: limit.unit },
  limit,
})

const darkest = (key: string, { name, box, frames }: SubjectFrames, limit: AppliedLimit): CheckFinding => ({
  ...noted(frames.darkest),
  code: 'dark-worst',
  key: `dark-worst ${key}`,
  where: name,
  box,
  message: `darkest held ${heldWords(frames.darkest.pose)}: ${percent(frames.darkest.luminance)} of the light of white paper`,
  fix:
    frames.darkest.luminance < limit.value
      ? 'Look at this frame. Dark print on it cannot be seen then; white below the print keeps it readable.'
      : 'Nothing to do; the frame is good evidence for a proof.',
  measured: { value: frames.darkest.luminance, unit: limit.unit },
  limit,
})

const bestView = ({ name, box, frames: { best } }: SubjectFrames): CheckFinding => ({
  ...noted(best),
  code: 'best-view',
  key: 'best-view carton',
  where: name,
  box,
  message: `most colourful without glare held ${heldWords(best.pose)}: mean chroma ${best.chroma.toFixed(0)}`,
  fix: 'Take this frame for a hero picture.',
  measured: { value: best.chroma, unit: 'C*ab' },
  limit: null,
})

const noted = ({ pose }: Frame): Pick<CheckFinding, 'check' | 'severity' | 'held' | 'remedy'> => ({
  check: 'glare',
  severity: 'note',
  held: pose,
  remedy: null,
})

const times = (value: number): string => `${value < 10 ? value.toFixed(1) : value.toFixed(0)} times`
const percent = (value: number): string => `${(100 * value).toFixed(value < 0.1 ? 1 : 0)} %`
