import type { Finding } from '../../core/base/finding.ts'
import type { Looking, PlaceDeg, Probe } from '../../core/job/probe.ts'
import type { ProbeSum } from '../../core/job/probe-sum.ts'
import { grooveWords } from '../../core/optics/groove.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Pictured } from './probe-spot.ts'
import { decimals, table } from './table.ts'

/** What was read at a spot. */
export interface SpotPage {
  readonly title: string
  readonly stack: Stack
  readonly looking: Looking
  readonly found: Probe
  readonly sum: ProbeSum | null
  readonly pictured: Pictured | null
  readonly findings: readonly Finding[]
}

/** The same for programs. */
export function spotReport(stack: Stack, { area: _, ...looking }: Looking, found: Probe): object {
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

/** For people. */
export function spotPage({ title, stack, looking, found, sum, pictured, findings }: SpotPage): string {
  return [
    `${title}\n${lightLines(looking)}`,
    `The stack, foil first\n${stackLines(stack)}`,
    orderLines(stack, found),
    `What the eye sees (white under the same lamp: Y = 1)\n${colorLines(found)}`,
    ...(sum === null
      ? []
      : [`All lamps (white in the panel's middle under all of them: Y = 1)\n${sumLines(sum)}`]),
    ...(pictured === null
      ? []
      : [`The picture has it otherwise: ${pictured.reads}\n${picturedLines(pictured)}`]),
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

function picturedLines({ XYZ, Lab, sRGB }: Pictured): string {
  if (XYZ === null || Lab === null || sRGB === null) return '  out of sight'
  const rows = [
    ['Together, XYZ', ...XYZ.map(value => decimals(value, 4))],
    ['Lab', ...Lab.map(value => decimals(value, 2))],
    ['sRGB, 0…1', ...sRGB.map(value => decimals(value, 4))],
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
