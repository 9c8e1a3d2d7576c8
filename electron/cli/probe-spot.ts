import { basename } from 'node:path'
import type { Finding } from '../../core/base/finding.ts'
import { sceneAtSpot } from '../../core/job/at-spot.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import { coatFindings } from '../../core/job/coat-findings.ts'
import { parseMaterial } from '../../core/job/material-file.ts'
import { overlayWords } from '../../core/job/overlay-words.ts'
import { type Looking, lookingFrom, surroundOf } from '../../core/job/probe.ts'
import { type ProbeSum, probeSum } from '../../core/job/probe-sum.ts'
import { type SeenColor, seenAs } from '../../core/job/probe-sweep.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { stackAt } from '../../core/material/sample.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Surround } from '../../core/optics/room.ts'
import { type Board, defaultBoard } from '../../core/optics/scene.ts'
import { bakingOf, bakingsOf, printingOf } from '../../core/reference/baking.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { Sweeper } from '../../core/reference/sweep.ts'
import { buildFromJob } from '../open-job.ts'
import { shippedCondition } from '../press.ts'
import { readText } from '../read-text.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork } from './at-work.ts'
import { assetNotes, type Output } from './command.ts'
import { numberOf } from './numbers.ts'
import { progressTask } from './progress.ts'

/** Where the numbers come from: a place on a job's panel, or a material. */
export interface Spot {
  readonly title: string
  readonly place: { readonly xMm?: number; readonly yMm?: number }
  readonly stack: Stack
  readonly looking: Looking
  readonly board: Board
  readonly display: { readonly exposureStops: number; readonly adapt: boolean }
  readonly surround: Surround | null
  /** All lamps together; null where there is only the one. */
  readonly sum: ((stack: Stack) => ProbeSum) | null
  /** Where leaves lie apart or are hidden: what the picture shows there, all lamps and the room. */
  readonly pictured: Pictured | null
  readonly findings: readonly Finding[]
}

/** Nulls where the spot is out of sight. */
export interface Pictured {
  readonly reads: string
  readonly XYZ: SeenColor['XYZ'] | null
  readonly Lab: SeenColor['Lab'] | null
  readonly sRGB: SeenColor['sRGB'] | null
}

const usualLooking: Looking = {
  lamp: { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 },
  eye: { azimuthDeg: 0, elevationDeg: 90, distanceMm: 400 },
  illuminant: 'D65',
}

/** Rejects with BadInput or UsageError. */
export async function spotOf(args: Args, output: Output): Promise<Spot> {
  const material = args.value('material')
  const jobPath = args.operands[0]
  const x = numberOf(args, 'x')
  const y = numberOf(args, 'y')
  if (material !== undefined) {
    if (jobPath !== undefined) throw new UsageError('probe: give a job or --material, not both')
    if (x !== undefined || y !== undefined) throw new UsageError('probe: a material has no --x and --y')
    return {
      title: `Material ${basename(material)}`,
      place: {},
      stack: {
        ...parseMaterial(await readText(material), basename(material)),
        printing: { condition: await shippedCondition(), toneGain: [0, 0, 0, 0] },
      },
      looking: usualLooking,
      board: defaultBoard,
      display: { exposureStops: 0, adapt: true },
      surround: null,
      sum: null,
      pictured: null,
      findings: [],
    }
  }
  if (jobPath === undefined) throw new UsageError('probe: JOB or --material FILE is missing')
  if (x === undefined || y === undefined) throw new UsageError('probe: a job needs --x and --y, in mm')
  const task = progressTask(output, `Building the map of ${basename(jobPath)}`)
  const opened = await jobAtWork(args, jobPath, output, task)
  const { map, findings } = await buildFromJob(opened, task)
  output.progress(null)
  for (const note of assetNotes(findings)) output.say(note)
  const { job } = opened
  const here = sceneAtSpot(job, x, y)
  const { board } = bakingOf(job, job.light.lamps[0].illuminant, map)
  return {
    title: `${basename(jobPath)} at x ${x} mm, y ${y} mm`,
    place: { xMm: x, yMm: y },
    stack: { ...stackAt(map, x, y), printing: printingOf(job.print, map) },
    looking: lookingFrom(here, job.panel, x, y),
    board,
    display: job.view,
    surround: surroundOf(here),
    sum: job.light.lamps.length > 1 ? stack => probeSum(stack, here, job.panel, x, y, board) : null,
    pictured: picturedAt(here, map, x, y),
    findings: [...coatFindings(job), ...cartonFindings(job)],
  }
}

function picturedAt(scene: Scene, map: MaterialMap, xMm: number, yMm: number): Pictured | null {
  const reads = overlayWords(scene.view.overlay)
  if (reads === null) return null
  const sweeper = new Sweeper(scene, map, bakingsOf(scene, map).map(bakeTables), [{ xMm, yMm }])
  const { XYZ, Lab, sRGB } = seenAs(scene)(sweeper.at(scene.view.pose)) ?? {
    XYZ: null,
    Lab: null,
    sRGB: null,
  }
  return { reads, XYZ, Lab, sRGB }
}
