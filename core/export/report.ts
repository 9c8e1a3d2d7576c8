import type { Art } from '../art/layer.ts'
import type { CheckList } from '../checks/run.ts'
import { type AssumedNumber, assumedNumbers, measuredNote } from '../job/assumed.ts'
import { buildOf } from '../job/board-build.ts'
import type { Job } from '../job/job.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Assigned } from '../roles/role.ts'
import { areaRows } from './area-rows.ts'
import { cautions } from './cautions.ts'
import { findingTable, ownLimits } from './report-findings.ts'
import { escaped, list, type Markup, page, section, table } from './report-page.ts'
import { round, valueWords } from './report-words.ts'
import { whiteFrom } from './white-from.ts'

/** What a report tells of. Nothing in it is read from anywhere else. */
export interface ReportInput {
  readonly jobName: string
  readonly job: Job
  readonly art: Art
  readonly assigned: readonly Assigned[]
  readonly map: MaterialMap
  /** What its checks found. */
  readonly checked: CheckList
  /** Version of the program. */
  readonly version: string
  /** When it was made, as the reader is to see it. */
  readonly made: string
}

/** One self-contained page about a job, HTML: no script, nothing fetched, all words of the job escaped. */
export function reportPage(input: ReportInput): string {
  const { job, jobName, version, made } = input
  const numbers = assumedNumbers(job, input)
  return page(`${jobName} – virtual appearance proof`, [
    escapedHead(jobName, version, made),
    section('What lies here', carton(input)),
    section('Light and eye', light(job)),
    section('Board', board(job)),
    section('Holography', areas(input)),
    section('White', whites(input)),
    section('Print', print(input)),
    section(`Findings (${input.checked.findings.length})`, findingTable(input.checked)),
    ...ownLimits(job),
    section(
      `Assumed numbers (${numbers.filter(one => measuredNote(job, one.key) === null).length})`,
      assumed(job, numbers),
    ),
    section('What this cannot promise', list(cautions)),
  ])
}

const escapedHead = (name: string, version: string, made: string): Markup => ({
  html: `<h1>${escaped(name)}</h1><p>Virtual appearance proof (not a contract proof). Made ${escaped(made)} with rakelight ${escaped(version)}.</p>`,
})

function carton({ job, art, map }: ReportInput): Markup {
  const { widthMm, heightMm, resolutionPpi } = job.panel
  return table(null, [
    ['Art', `${art.name}, ${art.format}, ${art.width} × ${art.height} px, ${art.colorMode}`],
    ...(job.brief === '' ? [] : [['Brief', job.brief] as const]),
    ['SHA-256 of the art', job.art?.sha256 ?? 'none yet'],
    ['Finished size', `${round(widthMm, 2)} × ${round(heightMm, 2)} mm`],
    ['Computed at', `${round(resolutionPpi, 1)} ppi, ${map.width} × ${map.height} places`],
    ['Layers and channels', `${art.layers.length} and ${art.channels.length}`],
  ])
}

function light({ light, view }: Job): Markup {
  const { tiltForwardDeg, tiltSideDeg, turnDeg } = view.pose
  const lamps = light.lamps.map(lamp => [
    lamp.name,
    lamp.spectrum === null ? lamp.illuminant : 'its own spectrum',
    `${round(lamp.lux, 1)} lx`,
    `azimuth ${round(lamp.pose.azimuthDeg, 1)}°, elevation ${round(lamp.pose.elevationDeg, 1)}°, ${round(lamp.pose.distanceMm, 0)} mm`,
    lamp.form.kind === 'disc'
      ? `disc of ${round(lamp.pose.diameterMm, 1)} mm`
      : `${round(lamp.form.widthMm, 1)} × ${round(lamp.form.heightMm, 1)} mm`,
  ])
  const eye = [
    ['Eye', `${round(view.eyeDistanceMm, 0)} mm away`],
    [
      'Panel',
      `tilted ${round(tiltForwardDeg, 1)}° top away, ${round(tiltSideDeg, 1)}° right side away, turned ${round(turnDeg, 1)}°`,
    ],
    ['Room', `${round(light.roomLevel, 3)} of white paper in its brightest part`],
    [
      'Display',
      `${view.gamut === 'srgb' ? 'sRGB' : 'Display P3'}, white ${view.displayWhite}, ${round(view.exposureStops, 2)} stops, ${view.adapt ? 'eye adapted to the lamps' : 'eye not adapted'}`,
    ],
  ]
  return {
    html: table(['Lamp', 'Spectrum', 'On the panel', 'Where', 'Size'], lamps).html + table(null, eye).html,
  }
}

function board({ board }: Job): Markup {
  const kind = buildOf(board)
  return table(null, [
    [
      'Build',
      kind === null ? `${board.build}, seen from the ${board.readFrom}` : `${kind.title}. ${kind.says}`,
    ],
    [
      'Colour of the foil',
      board.tint === null ? 'clear' : `${board.tint.name}, L* a* b* ${board.tint.lab.join(' ')}`,
    ],
    ['Refractive index over the metal', String(board.coatIndex)],
    ['Waviness', `${board.wavinessMrad} mrad rms`],
    ['Grating cell', `${board.cellUm.join(' × ')} µm`],
    ['Slope of the top, bare and varnished', `${board.glossRoughness} and ${board.varnishRoughness}`],
    ['Caliper', `${board.caliperMm} mm`],
  ])
}

function areas({ job, map }: ReportInput): Markup {
  const rows = areaRows(job, map).map(({ area, effect, pitch, direction, depth, shape, share }) => [
    area.name,
    effect,
    pitch,
    direction,
    depth,
    shape,
    share,
  ])
  if (rows.length === 0) return { html: '<p>No area carries holography.</p>' }
  return table(['Area', 'Effect', 'Pitch', 'Direction', 'Groove depth', 'Shape', 'Share'], rows)
}

function whites({ map }: ReportInput): Markup {
  if (map.whites.length === 0) return { html: '<p>No opaque white.</p>' }
  return table(
    ['Plate', 'Coverage', 'Opacity of one hit', 'Hits', 'Mottle', ''],
    map.whites.map(white => [
      white.name,
      'from the art',
      `${round(100 * white.opacity, 1)} %`,
      String(white.hits),
      `${round(100 * (white.mottle ?? 0), 0)} %`,
      whiteFrom(white),
    ]),
  )
}

function print({ job, map }: ReportInput): Markup {
  const { profile, intent, blackPoint, toneGain } = job.print
  const rows = [
    [
      'Print condition',
      profile === null ? 'offset on coated board, FOGRA39 (ships with rakelight)' : profile.path,
    ],
    ['Intent', `${intent}${blackPoint ? ', black point compensated' : ''}`],
    ['Tone gain on foil, C M Y K', toneGain.map(gain => `${round(100 * gain, 1)} %`).join(', ')],
    ...map.spots.map(spot => [
      `Spot ink ${spot.name}`,
      spot.spectrum
        ? 'measured spectrum'
        : spot.lab === null
          ? 'colour not known'
          : `L* a* b* ${spot.lab.map(v => round(v, 1)).join(' ')}`,
    ]),
  ]
  return table(null, rows)
}

function assumed(job: Job, numbers: readonly AssumedNumber[]): Markup {
  return table(
    ['Number', 'Now', 'Usual', 'Plausible', 'Status', 'Source', 'How to measure it'],
    numbers.map(one => {
      const note = measuredNote(job, one.key)
      return [
        `${one.name}. ${one.says}`,
        valueWords(one.value, one.unit),
        valueWords(one.usual, one.unit),
        one.range === null ? '' : `${round(one.range[0], 3)} to ${round(one.range[1], 3)} ${one.unit}`,
        note === null ? `assumed, ${one.status}` : `measured: ${note}`,
        one.source,
        one.measure,
      ]
    }),
  )
}
