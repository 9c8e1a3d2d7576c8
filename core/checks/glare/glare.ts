import type { Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { type AppliedLimit, applied } from '../limits.ts'
import { allPixels, pixelsOfAreas } from '../sweep/map-pixels.ts'
import { type Steps, usualGrid, usualTurns, viewsOf } from '../sweep/view-grid.ts'
import { flashesOf, mirrorsOf } from './flashes.ts'
import { type Fineness, type Frames, framesOf } from './frames.ts'
import { heldWords } from './held-words.ts'
import { glareLimits } from './limits.ts'
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
const ofWhole: Fineness = { scout: 40, climb: 120 }
const ofArea: Fineness = { scout: 32, climb: 64 }
/** Wide steps: cells are looked over whole, and what is found is climbed from. */
const searchTilts: Steps = { fromDeg: -60, count: 13, stepDeg: 10 }
/** Places of an area whose cells are looked over for flashes, and how many of those are gone after. */
const flashPlaces = 5
const flashesAfter = 4

/** What the check finds, as numbers. Throws Cancelled when told to stop. */
export function glareReport(
  input: Pick<CheckInput, 'map' | 'scene' | 'sets' | 'limits'>,
  task?: Task,
): GlareReport {
  const { map, scene, sets, limits } = input
  const glare = applied('glare-luminance', glareLimits['glare-luminance'], limits).value
  const [lamp] = usualGrid(scene).lamps
  const views = viewsOf({ lamps: [lamp!], tilts: searchTilts, turns: usualTurns })
  const ofAreas = pixelsOfAreas(map)
  const areas = map.areas.filter(({ id }) => ofAreas.has(id))
  const part = (i: number, from: number, to: number): Task => ({
    ...task,
    progress: (done, what) => task?.progress?.((i + from + done * (to - from)) / (areas.length + 1), what),
  })
  const flashes: PanelPose[] = []
  const found = (i: number, subject: Subject | null, fineness: Fineness, flashing: boolean) => {
    if (subject === null) return []
    // The carton flashes where one of its areas does, or as a mirror.
    const own = flashing
      ? flashesOf(subject, subject.faces(flashPlaces), views, flashesAfter, part(i, 0, 0.5))
      : flashes
    const poses = [...own, ...mirrorsOf(subject, subject.faces(fineness.scout))]
    if (flashing) flashes.push(...own)
    const frames = framesOf(subject, glare, views, poses, fineness, part(i, 0.5, 1))
    return frames === null ? [] : [{ name: subject.name, box: subject.box, frames }]
  }
  const each = areas.flatMap(({ id, name }, i) =>
    found(i, subjectOf(scene, map, sets, name, ofAreas.get(id)!), ofArea, true).map(one => ({ ...one, id })),
  )
  const carton = subjectOf(scene, map, sets, 'the whole carton', allPixels(map))
  const [whole = null] = found(areas.length, carton, ofWhole, false)
  return { whole, areas: each }
}

export const glareCheck: CheckPart = {
  name: 'glare',
  says: 'Where the carton dazzles, where it goes dark, and how it looks best',
  run: async (input, task) => glareFindings(glareReport(input, task), input),
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
