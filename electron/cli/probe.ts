import { basename } from 'node:path'
import type { Finding } from '../../core/base/finding.ts'
import type { SampledLight } from '../../core/color/spectrum.ts'
import { parseSpectrum } from '../../core/color/spectrum-file.ts'
import { validatedPitch } from '../../core/effects/parameters.ts'
import { sceneAtSpot } from '../../core/job/at-spot.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import { coatFindings } from '../../core/job/coat-findings.ts'
import { parseMaterial } from '../../core/job/material-file.ts'
import {
  type Looking,
  lookingFrom,
  type PlaceDeg,
  type Probe,
  probe,
  surroundOf,
} from '../../core/job/probe.ts'
import { type ProbeSum, probeSum } from '../../core/job/probe-sum.ts'
import { stackAt } from '../../core/material/sample.ts'
import { lostLimit } from '../../core/optics/beyond.ts'
import { grooveWords } from '../../core/optics/groove.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Surround } from '../../core/optics/room.ts'
import { type Board, defaultBoard, type IlluminantName, illuminantNames } from '../../core/optics/scene.ts'
import { maxOrder } from '../../core/optics/tables.ts'
import { bakingOf, printingOf } from '../../core/reference/baking.ts'
import { buildFromJob, openJob } from '../open-job.ts'
import { shippedCondition } from '../press.ts'
import { readText } from '../read-text.ts'
import { type Args, UsageError } from './args.ts'
import { assetNotes, type Command, changedArt, jsonFlag, type Output, outsideFlag } from './command.ts'
import { numberOf, numbersOf } from './numbers.ts'
import { coated, coatFlags } from './probe-coats.ts'
import { sweepSpot } from './probe-sweep.ts'
import { progressTask } from './progress.ts'
import { decimals, table } from './table.ts'

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
      ...outsideFlag,
      ...jsonFlag,
    },
  },
  async run(args, output) {
    if (args.has('sweep')) return sweepSpot(args, output)
    const bare = await spotOf(args, output)
    const spot = { ...bare, stack: coated(bare.stack, args) }
    const looking = lookingWith(args, spot.looking, await spectrumOf(args))
    const found = probe(spot.stack, looking, spot.board, spot.display, spot.surround)
    const sum =
      spot.sum !== null &&
      !args.has('lamp') &&
      !args.has('eye') &&
      !args.has('illuminant') &&
      !args.has('spectrum')
        ? spot.sum(spot.stack)
        : null
    const findings = [...notValidated(spot.stack), ...leftOut(spot.stack, found), ...spot.findings]
    output.print(
      args.has('json')
        ? JSON.stringify({ ...spot.place, ...report(spot.stack, looking, found), sum, findings }, null, 2)
        : page(spot.title, spot.stack, looking, found, sum, findings),
    )
  },
}

/** Where the numbers come from: a place on a job's panel, or a material. */
interface Spot {
  readonly title: string
  readonly place: { readonly xMm?: number; readonly yMm?: number }
  readonly stack: Stack
  readonly looking: Looking
  readonly board: Board
  readonly display: { readonly exposureStops: number; readonly adapt: boolean }
  readonly surround: Surround | null
  /** All lamps together; null where there is only the one. */
  readonly sum: ((stack: Stack) => ProbeSum) | null
  readonly findings: readonly Finding[]
}

const usualLooking: Looking = {
  lamp: { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 },
  eye: { azimuthDeg: 0, elevationDeg: 90, distanceMm: 400 },
  illuminant: 'D65',
}

async function spotOf(args: Args, output: Output): Promise<Spot> {
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
      findings: [],
    }
  }
  if (jobPath === undefined) throw new UsageError('probe: JOB or --material FILE is missing')
  if (x === undefined || y === undefined) throw new UsageError('probe: a job needs --x and --y, in mm')
  const task = progressTask(output, `Building the map of ${basename(jobPath)}`)
  const opened = await openJob(jobPath, args.has('allow-outside'), task)
  if (opened.changed) output.say(changedArt(opened))
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
    findings: [...coatFindings(job), ...cartonFindings(job)],
  }
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

/** The model has no rigorous check below a pitch; whoever reads a number there must know. */
function notValidated(stack: Stack): readonly Finding[] {
  return stack.gratings
    .filter(grating => grating.pitch < validatedPitch)
    .map(grating => ({
      severity: 'note',
      code: 'pitch-not-validated',
      where: `grating of ${decimals(grating.pitch, 0)} nm`,
      message: `efficiencies below ${validatedPitch} nm were not checked against a rigorous solver`,
      fix: 'Take them as an estimate.',
    }))
}

/** Pictures have no orders beyond ±maxOrder: whoever compares them with these numbers must know. */
function leftOut(stack: Stack, found: Probe): readonly Finding[] {
  return found.leftOut.flatMap((part, i) =>
    part > lostLimit
      ? [
          {
            severity: 'note' as const,
            code: 'orders-left-out',
            where: `grating of ${decimals(stack.gratings[i]!.pitch, 0)} nm`,
            message: `${decimals(100 * part, 1)} % of its light goes into orders beyond ±${maxOrder}, which pictures leave out`,
            fix: 'These numbers hold all orders.',
          },
        ]
      : [],
  )
}

function report(stack: Stack, { area: _, ...looking }: Looking, found: Probe): object {
  return {
    ...looking,
    stack: {
      metal: stack.metal,
      gratings: stack.gratings.map(grating => ({
        pitchNm: grating.pitch,
        linesPerMm: 1e6 / grating.pitch,
        azimuthDeg: (grating.azimuth * 180) / Math.PI,
        grooveDepthNm: grating.grooveDepth,
        groove: grating.groove,
        share: grating.share,
        ...(grating.view ? { view: grating.view } : {}),
      })),
      whites: stack.whites,
      ...(stack.chart === undefined ? {} : { chart: stack.chart }),
      cmyk: stack.cmyk,
      spots: stack.spots,
      varnish: stack.varnish,
    },
    ...found,
  }
}

function page(
  title: string,
  stack: Stack,
  looking: Looking,
  found: Probe,
  sum: ProbeSum | null,
  findings: readonly Finding[],
): string {
  return [
    `${title}\n${lightLines(looking)}`,
    `The stack, foil first\n${stackLines(stack)}`,
    orderLines(stack, found),
    `What the eye sees (white under the same lamp: Y = 1)\n${colorLines(found)}`,
    ...(sum === null
      ? []
      : [`All lamps (white in the panel's middle under all of them: Y = 1)\n${sumLines(sum)}`]),
    ...findings.map(finding => `${finding.severity}: ${finding.where}: ${finding.message}. ${finding.fix}`),
  ].join('\n\n')
}

function lightLines({ lamp, eye, illuminant }: Looking): string {
  const place = ({ azimuthDeg, elevationDeg, distanceMm }: PlaceDeg) =>
    `${decimals(90 - elevationDeg, 1)}° from straight-on, azimuth ${decimals(azimuthDeg, 1)}°, ${decimals(distanceMm, 0)} mm away`
  const rows = [
    [
      'Lamp',
      `${typeof illuminant === 'string' ? illuminant : 'a spectrum of its own'}, ${place(lamp)}, ${decimals(lamp.diameterMm, 1)} mm wide`,
    ],
    ['Eye', place(eye)],
  ]
  return table(rows, ['left', 'left'], 2)
}

function stackLines(stack: Stack): string {
  const percent = (part: number) => `${decimals(part * 100, 1)} %`
  const below = stack.chart === undefined ? [] : [['Chart', `reflects ${percent(stack.chart)}`]]
  const rows = [['Foil', percent(stack.metal)], ...below]
  for (const grating of stack.gratings)
    rows.push([
      gratingTitle(grating),
      `${decimals(grating.pitch, 0)} nm (${decimals(1e6 / grating.pitch, 0)} lines/mm), azimuth ${decimals((grating.azimuth * 180) / Math.PI, 1)}°, ` +
        `${decimals(grating.grooveDepth, 0)} nm deep, ${grooveWords(grating.groove)}, share ${percent(grating.share)}`,
    ])
  if (stack.gratings.length === 0) rows.push(['Grating', 'none'])
  for (const white of stack.whites)
    rows.push([
      'White',
      `coverage ${percent(white.coverage)}, opacity ${percent(white.opacity)}, ${white.hits} × printed` +
        (white.screen === 'even' ? ', an even film' : '') +
        (white.mottle ? `, mottle ${percent(white.mottle)}` : ''),
    ])
  if (stack.whites.length === 0) rows.push(['White', 'none'])
  rows.push(['C M Y K', stack.cmyk.map(percent).join('  ')])
  for (const spot of stack.spots) rows.push(['Spot ink', percent(spot.coverage)])
  if (stack.varnish > 0) rows.push(['Varnish', percent(stack.varnish)])
  return table(rows, ['left', 'left'], 2)
}

function orderLines(stack: Stack, found: Probe): string {
  if (found.orders.length === 0) return 'No diffracted order is in the visible.'
  const several = stack.gratings.length > 1
  const rows = found.orders.map(order => [
    ...(several ? [gratingNumber(stack, order.grating)] : []),
    decimals(order.m, 0),
    decimals(order.wavelengthNm, 1),
    decimals(order.bandNm, 1),
    `${decimals(order.efficiency * 100, 2)} %`,
    decimals(order.XYZ[1], 3),
  ])
  const titles = [
    ...(several ? ['Grating'] : []),
    'Order',
    'Wavelength, nm',
    'Band (σ), nm',
    'Efficiency',
    'Y',
  ]
  return `Orders in the visible\n${table(
    [titles, ...rows],
    titles.map(() => 'right' as const),
    2,
  )}`
}

const gratingTitle = ({ view }: Stack['gratings'][number]) => (view ? `View ${view}` : 'Grating')

/** As its line in the stack: its place there, or which view it is. */
function gratingNumber({ gratings }: Stack, index: number): string {
  const view = gratings[index]?.view
  return view ? `view ${view}` : String(index + 1)
}

function sumLines(sum: ProbeSum): string {
  const row = (name: string, values: readonly number[], count = 4) => [
    name,
    ...values.map(value => decimals(value, count)),
  ]
  const rows = [
    ...sum.lamps.map(lamp =>
      row(`${lamp.name}, ${decimals(lamp.lux, 0)} lx${lamp.behind ? ', behind the panel' : ''}`, lamp.XYZ),
    ),
    row('Room', sum.roomXYZ),
    row('Together, XYZ', sum.XYZ),
    row('Lab', sum.Lab, 2),
    row('sRGB, 0…1', sum.sRGB),
  ]
  return table(rows, ['left', 'right', 'right', 'right'], 2)
}

function colorLines(found: Probe): string {
  const row = (name: string, values: readonly number[], count: number) => [
    name,
    ...values.map(value => decimals(value, count)),
  ]
  const rows = [
    row('XYZ', found.XYZ, 4),
    row('Lab', found.Lab, 2),
    row('sRGB, 0…1', found.sRGB, 4),
    row('of XYZ: diffracted', found.diffractedXYZ, 4),
    row('mirror', found.mirrorXYZ, 4),
    row('haze', found.hazeXYZ, 4),
    row('gloss', found.glossXYZ, 4),
    row('scattered', found.diffuseXYZ, 4),
    row('besides: room', found.roomXYZ, 4),
  ]
  return table(rows, ['left', 'right', 'right', 'right'], 2)
}
