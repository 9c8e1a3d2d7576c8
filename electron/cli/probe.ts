import { basename } from 'node:path'
import type { SampledLight } from '../../core/color/spectrum.ts'
import { parseSpectrum } from '../../core/color/spectrum-file.ts'
import { type Looking, type PlaceDeg, probe } from '../../core/job/probe.ts'
import { type IlluminantName, illuminantNames } from '../../core/optics/scene.ts'
import { readText } from '../read-text.ts'
import { type Args, UsageError } from './args.ts'
import { jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { numbersOf } from './numbers.ts'
import { coated, coatFlags } from './probe-coats.ts'
import { leftOut, notValidated } from './probe-notes.ts'
import { spotPage, spotReport } from './probe-page.ts'
import { spotOf } from './probe-spot.ts'
import { sweepSpot } from './probe-sweep.ts'

export const probeCommand: Command = {
  usage: {
    name: 'probe',
    says: 'what the eye sees at one spot, in numbers',
    operands: ['[JOB]'],
    flags: {
      x: { value: 'MM', says: 'from the left edge of the panel' },
      y: { value: 'MM', says: 'from its lower edge' },
      material: { value: 'FILE', says: 'a material instead of a job' },
      lamp: { value: 'AZ,EL,DISTANCE,DIAMETER', says: 'degrees and mm, from the spot' },
      eye: { value: 'AZ,EL,DISTANCE', says: 'degrees and mm, from the spot' },
      illuminant: { value: 'NAME', says: `light of the lamp: ${illuminantNames.join(', ')}` },
      spectrum: { value: 'FILE', says: 'its spectrum instead: lines of nm and value, or JSON' },
      sweep: { value: null, says: 'the spot by tilt and turn, with its brightest and darkest tilt' },
      ...coatFlags,
      ...jobFlags,
      ...jsonFlag,
    },
  },
  async run(args, output) {
    if (args.has('sweep')) return sweepSpot(args, output)
    const bare = await spotOf(args, output)
    const spot = { ...bare, stack: coated(bare.stack, args) }
    const looking = lookingWith(args, spot.looking, await spectrumOf(args))
    const found = probe(spot.stack, looking, spot.board, spot.display, spot.surround)
    // Under other light than the job's there is neither a sum of its lamps nor its picture.
    const own = !['lamp', 'eye', 'illuminant', 'spectrum'].some(flag => args.has(flag))
    const sum = own ? (spot.sum?.(spot.stack) ?? null) : null
    const asDrawn = own && !Object.keys(coatFlags).some(flag => args.has(flag))
    const pictured = asDrawn ? spot.pictured : null
    const findings = [...notValidated(spot.stack), ...leftOut(spot.stack, found), ...spot.findings]
    output.print(
      args.has('json')
        ? JSON.stringify(
            { ...spot.place, ...spotReport(spot.stack, looking, found), sum, pictured, findings },
            null,
            2,
          )
        : spotPage({ title: spot.title, stack: spot.stack, looking, found, sum, pictured, findings }),
    )
  },
}

async function spectrumOf(args: Args): Promise<SampledLight | null> {
  const file = args.value('spectrum')
  if (file === undefined) return null
  if (args.has('illuminant')) throw new UsageError('probe: give --illuminant or --spectrum, not both')
  return parseSpectrum(await readText(file), basename(file))
}

function lookingWith(args: Args, usual: Looking, spectrum: SampledLight | null): Looking {
  const lamp = numbersOf(args, 'lamp', ['az', 'el', 'distance_mm', 'diameter_mm'])
  const eye = numbersOf(args, 'eye', ['az', 'el', 'distance_mm'])
  if (lamp !== undefined && !(lamp[3]! > 0)) throw new UsageError('--lamp: the diameter must be above 0 mm')
  return {
    lamp: lamp === undefined ? usual.lamp : { ...placeOf(lamp), diameterMm: lamp[3]! },
    eye: eye === undefined ? usual.eye : placeOf(eye),
    illuminant: spectrum ?? illuminantOf(args.value('illuminant')) ?? usual.illuminant,
    ...(usual.area === undefined || lamp !== undefined ? {} : { area: usual.area }),
  }
}

const placeOf = ([azimuthDeg, elevationDeg, distanceMm]: readonly number[]): PlaceDeg => ({
  azimuthDeg: azimuthDeg!,
  elevationDeg: elevationDeg!,
  distanceMm: distanceMm!,
})

function illuminantOf(name: string | undefined): IlluminantName | undefined {
  if (name === undefined) return undefined
  const known = illuminantNames.find(one => one === name)
  if (known !== undefined) return known
  throw new UsageError(`--illuminant: expected ${illuminantNames.join(', ')}, got "${name}"`)
}
