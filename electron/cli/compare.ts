import { comparePicture } from '../../core/export/compare-picture.ts'
import type { DifferenceNumbers } from '../../core/export/light-difference.ts'
import { writePng } from '../../core/export/png.ts'
import type { Job } from '../../core/job/job.ts'
import { lamp as lampFields, pose as poseFields } from '../../core/job/schema/light.ts'
import { checkFields } from '../../core/proof/schema.ts'
import { withHandLamp } from '../../core/reference/scene.ts'
import { ComparePair } from '../compare-pair.ts'
import { openSide } from '../compare-side.ts'
import { writeFileSafely } from '../write-file.ts'
import type { Args } from './args.ts'
import { jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { numberOf, numbersOf, sizeOf } from './numbers.ts'
import { progressTask } from './progress.ts'
import { decimals } from './table.ts'
import { changeLines } from './versions.ts'

/** Pixels of a side of one picture: three of them stand beside each other. */
const mostPixels = 5000

export const compare: Command = {
  usage: {
    name: 'compare',
    says: 'two jobs, proofs or versions (JOB@ID) under one lamp, held alike: side by side, their difference, and what changed',
    operands: ['A', 'B'],
    flags: {
      out: { value: 'FILE', says: 'where to write the pictures, PNG' },
      size: { value: 'WxH', says: 'of each picture, pixels; 640x480 when left out' },
      tilt: { value: 'FORWARD,SIDE', says: 'how both are held, degrees; as A is when left out' },
      turn: { value: 'DEG', says: 'how both are turned; as A is when left out' },
      lamp: {
        value: 'AZ,EL,DISTANCE,DIAMETER',
        says: 'the lamp in the hand, degrees and mm; as in A when left out',
      },
      ...jsonFlag,
      'allow-outside': jobFlags['allow-outside'],
    },
  },
  async run(args, output) {
    const [first, second] = args.operands as [string, string]
    const size = sizeOf(args.value('size') ?? '640x480', 'size', mostPixels)
    const target = args.value('out')
    const task = progressTask(output, 'Comparing')
    const outside = args.has('allow-outside')
    const [a, b] = [await openSide(first, outside, task), await openSide(second, outside, task)]
    const pair = new ComparePair()
    try {
      const { changes, numbers, ...panels } = await pair.compare(a, b, lookedWith(args, a.job), size, task)
      output.progress(null)
      if (target !== undefined)
        await writeFileSafely(target, writePng(comparePicture(panels, numbers), 'srgb'))
      if (args.has('json'))
        output.print(
          JSON.stringify(
            { a: a.name, b: b.name, size, difference: numbers, changes, file: target ?? null },
            null,
            2,
          ),
        )
      else {
        output.print(`A: ${a.name}\nB: ${b.name}\n\n${numberText(numbers)}\n`)
        output.print(
          changes.length === 0
            ? 'Nothing changed: same job, same files.'
            : `What changed from A to B, and what it costs after release:\n${changeLines(changes)}`,
        )
      }
      if (target !== undefined) output.say(`Wrote ${target}.`)
    } finally {
      await pair.close()
    }
  },
}

/** Light and view of A, but for what the flags say. */
function lookedWith(args: Args, { light, view }: Job): Pick<Job, 'light' | 'view'> {
  const tilt = numbersOf(args, 'tilt', ['forward', 'side'])
  const turn = numberOf(args, 'turn')
  const lamp = numbersOf(args, 'lamp', ['az', 'el', 'distance_mm', 'diameter_mm'])
  const pose = {
    tiltForwardDeg: tilt?.[0] ?? view.pose.tiltForwardDeg,
    tiltSideDeg: tilt?.[1] ?? view.pose.tiltSideDeg,
    turnDeg: turn ?? view.pose.turnDeg,
  }
  const flag = { code: 'flag' }
  const held = { ...view, pose: checkFields(poseFields, pose, '--tilt, --turn', flag) }
  if (lamp === undefined) return { light, view: held }
  const [azimuthDeg, elevationDeg, distanceMm, diameterMm] = lamp
  const place = checkFields(lampFields, { azimuthDeg, elevationDeg, distanceMm, diameterMm }, '--lamp', flag)
  return { light: withHandLamp(light, place), view: held }
}

function numberText({ above1, above2, above5, mean, max, beyondWhite, apart }: DifferenceNumbers): string {
  const share = (part: number) => `${decimals(100 * part, 1)} %`
  const lines = [
    `Colour difference ΔE00: mean ${decimals(mean, 2)}, largest ${decimals(max, 1)}`,
    `Pixels above 1: ${share(above1)}, above 2: ${share(above2)}, above 5: ${share(above5)}`,
  ]
  if (beyondWhite > 0)
    lines.push(
      `Brighter than paper white in A or B: ${share(beyondWhite)}; there ΔE00 goes on as it is defined, beyond the colours it was made for`,
    )
  if (apart > 0) lines.push(`Shown by only one of the two, another outline: ${share(apart)}`)
  return lines.join('\n')
}
