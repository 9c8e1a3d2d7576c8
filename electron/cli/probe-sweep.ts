import { basename } from 'node:path'
import { sceneAtSpot } from '../../core/job/at-spot.ts'
import { overlayWords } from '../../core/job/overlay-words.ts'
import { type HeldColor, type SeenColor, type SweepTable, sweepTable } from '../../core/job/probe-sweep.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { Sweeper } from '../../core/reference/sweep.ts'
import { buildFromJob } from '../open-job.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork } from './at-work.ts'
import { assetNotes, type Output } from './command.ts'
import { numberOf } from './numbers.ts'
import { progressTask } from './progress.ts'
import { decimals, table } from './table.ts'

/** Flags that say how the panel is held or what lies there: a sweep holds it every way, and reads what is there. */
const others = ['material', 'lamp', 'eye', 'illuminant', 'spectrum', 'white', 'chart']

/** `probe JOB --x --y --sweep`: a spot by tilt and turn, under all lamps of the job. */
export async function sweepSpot(args: Args, output: Output): Promise<void> {
  const other = others.find(flag => args.has(flag))
  if (other !== undefined)
    throw new UsageError(`probe: --sweep takes the job's own; --${other} goes without it`)
  const jobPath = args.operands[0]
  const xMm = numberOf(args, 'x')
  const yMm = numberOf(args, 'y')
  if (jobPath === undefined) throw new UsageError('probe: --sweep needs a job')
  if (xMm === undefined || yMm === undefined) throw new UsageError('probe: a job needs --x and --y, in mm')
  const name = basename(jobPath)
  const building = progressTask(output, `Building the map of ${name}`)
  const opened = await jobAtWork(args, jobPath, output, building)
  const { map, findings } = await buildFromJob(opened, building)
  for (const note of assetNotes(findings)) output.say(note)
  const { job } = opened
  if (xMm < 0 || yMm < 0 || xMm > map.widthMm || yMm > map.heightMm)
    throw new UsageError(
      `probe: x ${xMm}, y ${yMm} lies beside the panel of ${decimals(map.widthMm, 1)} × ${decimals(map.heightMm, 1)} mm`,
    )
  const here = sceneAtSpot(job, xMm, yMm)
  const sweeper = new Sweeper(here, map, bakingsOf(job, map).map(bakeTables), [{ xMm, yMm }])
  const found = sweepTable(sweeper, here, progressTask(output, `Tilting ${name}`))
  const reads = overlayWords(job.view.overlay)
  output.progress(null)
  output.print(
    args.has('json')
      ? JSON.stringify({ xMm, yMm, reads, ...found }, null, 2)
      : page(`${name} at x ${xMm} mm, y ${yMm} mm${reads === null ? '' : `, ${reads}`}`, found),
  )
}

function page(title: string, found: SweepTable): string {
  const heads = ['Tilt', ...found.turnsDeg.map(deg => `turn ${deg}°`)]
  const rows = found.rows.map(row => [
    `${decimals(row.tiltForwardDeg, 0)}°`,
    ...row.seen.map(one => (one === null ? '–' : decimals(one.XYZ[1], 3))),
  ])
  return [
    `${title}\nLuminance, in paper white; tilt: top away, turn: counter-clockwise before it`,
    table(
      [heads, ...rows],
      heads.map(() => 'right' as const),
      2,
    ),
    table(
      [
        ...(found.brightest === null ? [] : [['Brightest', ...heldCells(found.brightest)]]),
        ...(found.darkest === null ? [] : [['Darkest', ...heldCells(found.darkest)]]),
        ['As the job has it', '', ...colorCells(found.now)],
        ['Same ink on white', '', ...colorCells(found.onWhite)],
        ...(found.deltaE00 === null ? [] : [['ΔE00 of the two', '', decimals(found.deltaE00, 1)]]),
      ],
      ['left', 'left', 'right', 'left'],
      2,
    ),
  ].join('\n\n')
}

const heldCells = ({ pose, ...seen }: HeldColor): readonly string[] => [
  `tilt ${decimals(pose.tiltForwardDeg, 1)}°, sideways ${decimals(pose.tiltSideDeg, 1)}°`,
  ...colorCells(seen),
]

const colorCells = (seen: SeenColor | null): readonly string[] =>
  seen === null
    ? ['out of sight']
    : [`Y ${decimals(seen.XYZ[1], 3)}`, `Lab ${seen.Lab.map(part => decimals(part, 1)).join(' ')}`]
