import type { Art } from '../art/layer.ts'
import { heldWords } from '../checks/glare/held-words.ts'
import type { CheckList, ListedFinding } from '../checks/run.ts'
import { pixelsOfAreas } from '../checks/sweep/map-pixels.ts'
import { assumedNumbers, measuredNote } from '../job/assumed.ts'
import type { Job } from '../job/job.ts'
import { baseName } from '../job/variants.ts'
import type { MaterialMap } from '../material/map.ts'
import { proofLabel } from '../proof/names.ts'
import { type Note, noteState } from '../proof/notes.ts'
import { type ProofVersion, shortId } from '../proof/version.ts'
import type { Assigned } from '../roles/role.ts'
import { areaRows } from './area-rows.ts'
import { cautions } from './cautions.ts'
import { boxWords, limitWords, numberWords } from './check-report.ts'
import { makePdf } from './pdf/document.ts'
import { type Flow, type SheetPicture, styles } from './pdf/flow.ts'
import { border, columnWidth } from './pdf/paper.ts'
import { type Captioned, pictureGrid } from './pdf/picture-grid.ts'
import { stackDrawing } from './pdf/stack-drawing.ts'
import { type Cell, facts, table } from './pdf/table.ts'
import { findingState } from './report-findings.ts'
import { round, valueWords } from './report-words.ts'
import { stackLayers } from './stack-layers.ts'

/** What a proof sheet tells of. Nothing in it is read from anywhere else. */
export interface ProofSheetInput {
  readonly version: ProofVersion
  readonly art: Art
  readonly assigned: readonly Assigned[]
  readonly map: MaterialMap
  readonly checked: CheckList
  /** Best, darkest and worst-glare frame; none where the carton is never in sight. */
  readonly found: readonly Captioned[]
  /** The job's own light, then the named ones. */
  readonly lights: readonly Captioned[]
  /** Small pictures of the effect of an area, by its id. */
  readonly swatches: ReadonlyMap<number, readonly SheetPicture[]>
  readonly notes: readonly Note[]
}

/** A proof sheet for a meeting: PDF of A4, the same bytes for the same input. */
export function proofSheet(input: ProofSheetInput): Promise<Uint8Array<ArrayBuffer>> {
  const { version } = input
  const program = `rakelight ${version.program}`
  const words = {
    title: `${version.jobName}: ${proofLabel}`,
    subject: `Version ${version.id}`,
    producer: program,
    madeAt: version.madeAt,
    foot: `${version.jobName} · version ${shortId(version.id)} · ${proofLabel}`,
  }
  return makePdf(words, flow => drawSheet(flow, input))
}

function drawSheet(flow: Flow, input: ProofSheetInput): void {
  const { version, checked, notes, found, lights } = input
  head(flow, version)
  if (found.length > 0) pictureGrid(flow, found, 3)
  flow.heading('Under named lights', 120)
  pictureGrid(flow, lights, 4)
  flow.heading('Layers', 200)
  stackDrawing(flow, stackLayers(version.job, input.map))
  flow.heading('Holography', 110)
  areas(flow, input)
  flow.heading(`Findings (${checked.findings.length})`, 90)
  findings(flow, checked)
  flow.heading(`Notes (${notes.length})`)
  noteTable(flow, notes)
  flow.heading('Light and eye', 80)
  light(flow, version.job)
  flow.heading('Assumed numbers', 90)
  assumed(flow, input)
  flow.heading('What it was made from', 80)
  sources(flow, version)
  flow.heading('What this cannot promise', 60)
  for (const text of cautions) {
    flow.paragraph(text)
    flow.gap(2)
  }
  substitutes(flow)
}

function head(flow: Flow, version: ProofVersion): void {
  const { job, madeAt, program, id, jobName } = version
  const design = (job.variant === null ? undefined : job.variants[job.variant]?.name) ?? baseName
  // A hostile name may be longer than a page is wide: it is set smaller, and whole.
  flow.paragraph(jobName, jobName.length > 60 ? styles.heading : styles.title)
  flow.gap(2)
  flow.box(border.left, flow.y, columnWidth, 18, [0.93, 0.93, 0.93])
  flow.put(proofLabel, border.left + 6, flow.y + 12.5, styles.strong)
  flow.gap(23)
  const day = `${madeAt.slice(0, 16).replace('T', ' ')} UTC`
  const { widthMm, heightMm } = job.panel
  const say = `${round(widthMm, 2)} × ${round(heightMm, 2)} mm · design ${design} · version ${shortId(id)} · made ${day} with rakelight ${program}`
  flow.paragraph(say, styles.caption)
  if (job.brief !== '') flow.paragraph(job.brief)
  flow.gap(8)
}

function areas(flow: Flow, { version: { job }, map, swatches }: ProofSheetInput): void {
  const rows = areaRows(job, map)
  if (rows.length === 0) {
    flow.paragraph('No area carries holography.')
    return
  }
  const pixels = pixelsOfAreas(map)
  const square = (map.widthMm * map.heightMm) / (map.width * map.height) / 100
  table(
    flow,
    [
      { head: 'Tilted nearer, straight, away', part: 30 },
      { head: 'Area', part: 26 },
      { head: 'Effect', part: 26 },
      { head: 'Pitch', part: 24 },
      { head: 'Direction', part: 13 },
      { head: 'Depth', part: 12 },
      { head: 'Share', part: 10 },
      { head: 'cm²', part: 10 },
    ],
    rows.map(row => [
      { pictures: swatches.get(row.area.id) ?? [], height: swatches.has(row.area.id) ? 18 : 0 },
      { text: row.area.name, style: styles.cellStrong },
      row.effect,
      row.pitch,
      row.direction,
      row.depth,
      row.share,
      round((pixels.get(row.area.id)?.length ?? 0) * square, 2),
    ]),
  )
  flow.gap(3)
  flow.paragraph(
    'Swatches are a piece of foil of the effect alone, under two soft lamps, tilted by 9°. Whole cm² are those of the area on the art, printed over or not.',
    styles.caption,
  )
}

function findings(flow: Flow, { findings: all, sums }: CheckList): void {
  if (all.length === 0) {
    flow.paragraph('The checks found nothing.')
    return
  }
  flow.paragraph(
    `${sums.fails} ${sums.fails === 1 ? 'fails' : 'fail'}, ${sums.warnings} to be looked at, ${sums.notes} to be known, ${sums.waived} waived.`,
  )
  flow.gap(4)
  table(
    flow,
    [
      { head: '', part: 13 },
      { head: 'Where', part: 28 },
      { head: 'What, and what to do', part: 66 },
      { head: 'Measured; limit and its source', part: 42 },
    ],
    all.map(one => [
      { text: findingState(one), style: one.waiver === null ? styles.cellStrong : styles.cell },
      whereWords(one),
      `${one.message}.\n${one.fix}`.replace(/\.\./g, '.'),
      measuredWords(one),
    ]),
  )
}

/** A place that is told by its edges alone is told once. */
function whereWords(one: ListedFinding): string {
  const box = boxWords(one)
  if (box === '') return one.where
  return /^x [\d−]/.test(one.where) ? box : `${one.where}\n${box}`
}

const measuredWords = ({ measured, limit }: ListedFinding): string =>
  [
    ...(measured === null ? [] : [numberWords(measured)]),
    ...(limit === null ? [] : [`limit ${limitWords(limit)}`]),
  ].join('\n')

function noteTable(flow: Flow, notes: readonly Note[]): void {
  if (notes.length === 0) {
    flow.paragraph('None.')
    return
  }
  table(
    flow,
    [
      { head: '', part: 7 },
      { head: 'Who, when', part: 30 },
      { head: 'Place, and how it was held', part: 38 },
      { head: 'What', part: 74 },
    ],
    notes.map((note, i) => [
      { text: String(i + 1), style: styles.cellStrong },
      `${note.author}\n${instant(note.at)}\n${noteState(note)}`,
      `x ${round(note.place.xMm, 1)}, y ${round(note.place.yMm, 1)} mm\n${heldWords(note.view.pose)}`,
      [
        note.text,
        ...note.answers.map(
          one =>
            `${one.author}, ${instant(one.at)}${one.state === null ? '' : ` (${one.state})`}: ${one.text}`,
        ),
      ].join('\n'),
    ]),
  )
}

/** As a reader has it: day and minute. */
export const instant = (at: string): string => `${at.slice(0, 16).replace('T', ' ')} UTC`

function light(flow: Flow, { light: own, view }: Job): void {
  const lamps = own.lamps.map(lamp => {
    const { azimuthDeg, elevationDeg, distanceMm, diameterMm } = lamp.pose
    const size =
      lamp.form.kind === 'disc'
        ? `disc of ${round(diameterMm, 1)} mm`
        : `${round(lamp.form.widthMm, 1)} × ${round(lamp.form.heightMm, 1)} mm`
    const spectrum = lamp.spectrum === null ? lamp.illuminant : 'its own spectrum'
    return [
      lamp.name,
      `${spectrum}, ${round(lamp.lux, 1)} lx, azimuth ${round(azimuthDeg, 1)}°, elevation ${round(elevationDeg, 1)}°, ${round(distanceMm, 0)} mm away, ${size}`,
    ] as const
  })
  facts(flow, [
    ...lamps,
    ['Room', `${round(own.roomLevel, 3)} of white paper in its brightest part`],
    ['Eye', `${round(view.eyeDistanceMm, 0)} mm away; the carton held ${heldWords(view.pose)}`],
    [
      'Pictures here',
      `sRGB, ${round(view.exposureStops, 2)} stops, ${view.adapt ? 'eye adapted to the lamps' : 'eye not adapted'}; paper white at 0.8 of the page's white`,
    ],
  ])
}

function assumed(flow: Flow, { version: { job }, art, assigned }: ProofSheetInput): void {
  const numbers = assumedNumbers(job, { art, assigned })
  const left = numbers.filter(one => measuredNote(job, one.key) === null).length
  flow.paragraph(
    `${left} of ${numbers.length} numbers are assumed and not measured. What each is, and how to measure it, stands in the report of rakelight.`,
  )
  flow.gap(4)
  table(
    flow,
    [
      { head: 'Number', part: 46 },
      { head: 'Now', part: 20 },
      { head: 'Usual', part: 20 },
      { head: 'Plausible', part: 26 },
      { head: 'Status and source', part: 62 },
    ],
    numbers.map(one => {
      const note = measuredNote(job, one.key)
      return [
        one.name,
        valueWords(one.value, one.unit),
        valueWords(one.usual, one.unit),
        one.range === null ? '' : `${round(one.range[0], 3)} to ${round(one.range[1], 3)} ${one.unit}`,
        note === null ? `assumed, ${one.status}: ${one.source}` : `measured: ${note}`,
      ]
    }),
  )
}

/** Every file with its hash, and the version's own. */
export function sources(
  flow: Flow,
  { sources: files, id, jobSha256, jobName, data }: Omit<ProofVersion, 'job'>,
): void {
  const hash = (text: string): Cell => ({ text, style: styles.hash })
  const kinds = { art: 'Art', profile: 'Print profile', asset: 'Picture or model', carton: 'Carton' } as const
  table(
    flow,
    [
      { head: '', part: 20 },
      { head: 'Name', part: 36 },
      { head: 'Bytes', part: 15 },
      { head: 'SHA-256', part: 103 },
    ],
    [
      ...files.map(({ kind, name, bytes, sha256 }) => [kinds[kind], name, String(bytes), hash(sha256)]),
      ['Job', jobName, '', hash(jobSha256)],
      ['Version', `with tables of ${data}`, '', hash(id)],
    ],
  )
}

/** Says which signs the fonts lack, and what stands in their place; nothing where they had all. */
export function substitutes(flow: Flow): void {
  const all = [...flow.faces.substitutes]
  if (all.length === 0) return
  const told = all.slice(0, 40).map(([sign, shown]) => {
    const code = sign.codePointAt(0)!.toString(16).toUpperCase().padStart(4, '0')
    return `U+${code} as ${shown}`
  })
  const more = all.length > told.length ? ` and ${all.length - told.length} more` : ''
  flow.gap(6)
  flow.paragraph(
    `The letters of this sheet are those of Western Europe and Greek. Others are shown by their base letter or their number: ${told.join(', ')}${more}.`,
    styles.caption,
  )
}
