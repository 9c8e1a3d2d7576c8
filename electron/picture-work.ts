import { partOf, type Task } from '../core/base/task.ts'
import { glareReport } from '../core/checks/glare/glare.ts'
import { shiftedMap } from '../core/checks/register/shifted-map.ts'
import { contactLayout, place, writeAngles } from '../core/export/stills/contact.ts'
import { blankSheet, fileEnding, samplesOf, stillFile } from '../core/export/stills/still-file.ts'
import { contactCells, type FoundPoses, type Still, stillsOf } from '../core/export/stills/still-list.ts'
import type { MadeFile, StillsWish } from '../core/export/stills/wish.ts'
import type { Job } from '../core/job/job.ts'
import { shownMotions } from '../core/job/register.ts'
import type { MaterialMap } from '../core/material/map.ts'
import { pyramid } from '../core/material/mip.ts'
import { proofLabel } from '../core/proof/names.ts'
import { bakingsOf } from '../core/reference/baking.ts'
import type { Zoom } from '../core/reference/camera.ts'
import type { Scene } from '../core/reference/scene.ts'
import { wholeLight } from '../core/reference/whole-light.ts'
import type { ReadyJob } from './check-work.ts'
import type { KeptTables } from './kept-tables.ts'

/** Rays a pixel of a picture, along each side. */
const grid = 2

/** Pictures of one job: its map as its plates lie, with the tables of whatever light it is put under. */
export class JobPictures {
  readonly #levels: readonly MaterialMap[]
  readonly #tables: KeptTables

  constructor(map: MaterialMap, job: Job, tables: KeptTables) {
    this.#levels = pyramid(shiftedMap(map, shownMotions(job)))
    this.#tables = tables
  }

  /** X, Y, Z, met a pixel. */
  light(scene: Scene, width: number, height: number, zoom: Zoom | undefined, task: Task): Float32Array {
    const sets = bakingsOf(scene, this.#levels[0]!).map(baking => this.#tables.of(baking))
    const size = { width, height, grid, ...(zoom === undefined ? {} : { zoom }) }
    return wholeLight(scene, this.#levels, sets, size, task)
  }
}

/** Frames of the whole carton, as the check finds them; null where none of them is asked for, or it is never in sight. */
export function foundPoses(wanted: boolean, { input }: ReadyJob, task: Task): FoundPoses {
  if (!wanted) return null
  const frames = glareReport(input, task).whole?.frames
  return frames === undefined
    ? null
    : { best: frames.best.pose, darkest: frames.darkest.pose, glare: frames.glare.pose }
}

/** What stills are named by and say. */
export interface StillNames {
  /** Beginning of every file's name. */
  readonly stem: string
  /** Name and version of the program. */
  readonly software: string
}

/** Stills of a job as files. Throws Cancelled when told to stop. */
export function makeStills(
  job: Job,
  wish: StillsWish,
  found: FoundPoses,
  pictures: JobPictures,
  { stem, software }: StillNames,
  task: Task,
): readonly MadeFile[] {
  const { width, height, format, what } = wish
  const stills = stillsOf(job, what, found, width / height)
  const contact = what.includes('contact')
  // A contact sheet and the stills take their parts of the time by their pixels.
  const { cellWidth, cellHeight, tilt, turn } = wish.contact
  const ofContact = contact ? cellWidth * cellHeight * tilt.count * turn.count : 0
  const whole = ofContact + stills.length * width * height
  const files: MadeFile[] = []
  if (contact)
    files.push(contactFile(job, wish, pictures, { stem, software }, partOf(task, 0, ofContact / whole)))
  for (const [i, one] of stills.entries()) {
    const from = (ofContact + i * width * height) / whole
    const part = partOf(task, from, from + (width * height) / whole)
    files.push(stillOf(one, wish, pictures, { stem, software }, naming(part, one.title)))
  }
  return files.map(file => ({ ...file, name: `${file.name}.${fileEnding(format)}` }))
}

const naming = (task: Task, what: string): Task => ({
  ...task,
  progress: done => task.progress?.(done, what),
})

function stillOf(
  { name, title, held, scene, zoom }: Still,
  { width, height, format }: StillsWish,
  pictures: JobPictures,
  { stem, software }: StillNames,
  task: Task,
): MadeFile {
  const light = pictures.light(scene, width, height, zoom, task)
  const canvas = samplesOf(light, scene, { width, height }, format)
  const description = `${stem}: ${title}, held ${held}. ${proofLabel}`
  const bytes = stillFile(canvas, scene, format, { description, software })
  return { name: `${stem}-${name}`, bytes, title: `${title}, held ${held}` }
}

function contactFile(
  job: Job,
  { contact, format }: StillsWish,
  pictures: JobPictures,
  { stem, software }: StillNames,
  task: Task,
): MadeFile {
  const { width, height, cell } = contactLayout(contact)
  const { canvas, ink } = blankSheet(width, height, format)
  const { cellWidth, cellHeight, turn } = contact
  const cells = contactCells(job, contact)
  for (const [i, { scene, zoom }] of cells.entries()) {
    const part = naming(partOf(task, i / cells.length, (i + 1) / cells.length), 'contact sheet')
    const light = pictures.light(scene, cellWidth, cellHeight, zoom, part)
    const { x, y } = cell(Math.floor(i / turn.count), i % turn.count)
    place(canvas, samplesOf(light, scene, { width: cellWidth, height: cellHeight }, format), x, y)
  }
  writeAngles(canvas, contact, ink)
  const description = `${stem}: over tilt and turn. ${proofLabel}`
  const bytes = stillFile(canvas, cells[0]!.scene, format, { description, software })
  return { name: `${stem}-contact`, bytes, title: 'Contact sheet over tilt and turn' }
}
