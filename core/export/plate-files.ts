import type { Art, ArtFile } from '../art/layer.ts'
import { stepWords } from '../art/processing-steps.ts'
import { BadInput, type Finding } from '../base/finding.ts'
import { partOf, type Task } from '../base/task.ts'
import { forPictures } from '../color/profile.ts'
import type { Job } from '../job/job.ts'
import type { Press } from '../material/inks.ts'
import { fileStem } from '../proof/names.ts'
import type { Alternate, InkPlate, SeparateOptions } from './ink-plate.ts'
import { outlinesSvg } from './outlines-svg.ts'
import { dieline } from './plate-die.ts'
import { dielineName, plateNames } from './plate-names.ts'
import { areaOutlines, type HoloArea } from './plate-outlines.ts'
import { type PlatePages, platePdf } from './plate-pdf.ts'
import { plateTiffs } from './plate-pictures.ts'
import { type PlateSheet, plateSheet } from './plate-sheet.ts'
import { technicals, withDieOnce } from './plate-technical.ts'
import type { MadePlates, PlateLabel, PlateMade, PlateWish, Reading } from './plate-wish.ts'
import { type Separated, separate } from './plates.ts'

/** A job's art with all that its plates are made from. */
export interface PlateWork {
  readonly file: ArtFile
  readonly job: Job
  readonly options: SeparateOptions
  readonly wish: PlateWish
  readonly label: PlateLabel
  /** Bytes of the font that the PDF's label is set in: `labelFontFile`. */
  readonly labelFont: Uint8Array
}

/** Colorants that a colour space of several may have. Source: ISO 32000-1, annex C, table C.1. */
const mostInks = 32

/**
 * The plates of a job as files. Throws BadInput for plates that are not there, Cancelled when told to stop.
 */
export async function makePlates(work: PlateWork, task?: Task): Promise<MadePlates> {
  const { file, job, options, wish, label, labelFont } = work
  const separated = await separate(file, options, partOf(task, 0, 0.45))
  const sheet = plateSheet(job, file.art, wish.bleedMm)
  const findings: Finding[] = [...separated.findings, ...sheet.findings]
  if (job.art === null) findings.push(onlySketched)
  const die = await dieline(file, options, sheet, findings, partOf(task, 0.45, 0.55))
  const hasDie = die !== null || sheet.die !== null
  const { plates, withDie } = chosen(separated, hasDie, wish, label.jobName)
  const read = plates.map(plate => ({ ...plate, reading: wish.reading[plate.group] }))
  const files: MadePlates['files'][number][] = []
  let media: MadePlates['sheet']['media'] = null
  const outlined = withDie && (wish.formats.includes('pdf') || wish.formats.includes('svg'))
  const areas = outlined
    ? await areaOutlines(file, options, job.marked, findings, partOf(task, 0.55, 0.7))
    : { outlines: [], holography: [] }
  const lines = withDieOnce(sheet, areas.outlines, job.carton !== null)
  if (wish.formats.includes('pdf')) {
    const inks = cmykOf(read, options.press, file.art.name)
    const { bytes, page } = await platePdf(
      {
        use: wish.use,
        plates: read.map((plate, i) => ({ ...plate, cmyk: inks[i]! })),
        technicals: withDie ? technicals(lines.sheet, lines.areas) : [],
        holography: holoPlates(
          areas.holography,
          read.map(({ name }) => name),
          findings,
        ),
        dieInPixels: withDie && sheet.die === null ? die : null,
        sheet,
        marks: wish.marks,
        label,
        labelFont,
        condition: conditionOf(file.art, job, options.press),
      },
      partOf(task, 0.7, 0.85),
    )
    media = [page.width, page.height]
    files.push({ name: `${fileStem(label.jobName)}.plates.pdf`, bytes, plate: null })
  }
  if (wish.formats.includes('tiff')) {
    const pictures = [
      ...read.map(({ name, plane, reading }) => ({ name, plane, reading })),
      ...(die && withDie ? [{ name: dielineName, plane: die, reading: 'right' as Reading }] : []),
    ]
    if (pictures.length > 0) files.push(...plateTiffs(pictures, read, sheet, label, partOf(task, 0.85, 1)))
  }
  if (wish.formats.includes('svg')) {
    const svg = outlinesSvg(lines.sheet, lines.areas, label.jobName)
    files.push({ name: `${fileStem(label.jobName)}.outlines.svg`, bytes: svg, plate: null })
  }
  return {
    files,
    plates: [...read.map(plate => madeOf(plate, sheet)), ...(withDie && hasDie ? [madeDie] : [])],
    empty: separated.empty,
    sheet: sizesOf(sheet, media, separated),
    findings,
  }
}

/**
 * The print condition that the numbers of the plates are meant for: one that the job names, else that of the art, whose
 * numbers they are, else the press's.
 */
function conditionOf(
  { profile, colorMode, name }: Art,
  job: Pick<Job, 'print'>,
  press: Press,
): PlatePages['condition'] {
  if (
    job.print.profile === null &&
    profile !== null &&
    colorMode === 'CMYK' &&
    isCmyk(profile.bytes, press, name)
  )
    return { name: profile.name, profile: profile.bytes }
  return { name: press.condition?.name ?? press.name ?? 'CMYK', profile: press.profile }
}

function isCmyk(profile: Uint8Array, { engine }: Press, subject: string): boolean {
  try {
    return engine.inspect(profile, subject).space === 'CMYK'
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return false
  }
}

/** The plates that are asked for, in the order of the press. */
function chosen(
  { plates }: Separated,
  hasDie: boolean,
  { plates: names }: PlateWish,
  subject: string,
): { readonly plates: readonly InkPlate[]; readonly withDie: boolean } {
  if (plates.length === 0 && !hasDie) throw nothingThere(subject)
  if (names === null) {
    if (plates.length > mostInks) throw tooMany(subject, plates.length)
    return { plates, withDie: true }
  }
  const there = [...plates.map(({ name }) => name), ...(hasDie ? [dielineName] : [])]
  const wanted = new Set(names.map(name => name.trim().toLowerCase()))
  for (const name of names)
    if (!there.some(one => one.toLowerCase() === name.trim().toLowerCase()))
      throw new BadInput(
        'no-such-plate',
        subject,
        `plate "${name}"`,
        'the job has no such plate, or nothing is printed of it',
        there.length === 0 ? 'It has none at all' : `Choose among ${there.join(', ')}`,
      )
  const kept = plates.filter(({ name }) => wanted.has(name.toLowerCase()))
  if (kept.length > mostInks) throw tooMany(subject, kept.length)
  return { plates: kept, withDie: wanted.has(dielineName.toLowerCase()) }
}

const nothingThere = (subject: string) =>
  new BadInput(
    'nothing-printed',
    subject,
    'plates',
    'the job has no ink, no white, no varnish and no dieline',
    'Look at the roles of its layers',
  )

const tooMany = (subject: string, count: number) =>
  new BadInput(
    'too-many-plates',
    subject,
    'plates',
    `there are ${count}, and a page holds ${mostInks}`,
    'Name those that are wanted',
  )

/** Areas of holography with names that no plate has, so that each can be a separation of its own. */
function holoPlates(
  areas: readonly HoloArea[],
  plates: readonly string[],
  findings: Finding[],
): readonly HoloArea[] {
  const names = plateNames(
    areas.map(({ name }) => name),
    findings,
    plates,
  )
  return areas.map((area, i) => ({ ...area, name: names[i]! }))
}

/** Inks that stand for the others where several are mixed: what the press prints for their colour. */
function cmykOf(
  plates: readonly { readonly alternate: Alternate }[],
  { engine, profile }: Press,
  subject: string,
): readonly (readonly [number, number, number, number])[] {
  const labs = plates.flatMap(({ alternate }) => (alternate.space === 'Lab' ? [alternate.values] : []))
  if (labs.length === 0)
    return plates.map(({ alternate }) => alternate.values as readonly [number, number, number, number])
  const transform = engine.transform('Lab', { icc: profile }, forPictures, subject)
  const found = Float32Array.from(
    transform.run(
      Float32Array.from(labs.flatMap(([L, a, b]) => [L / 100, (a + 128) / 255, (b + 128) / 255])),
    ),
  )
  transform.close()
  let at = 0
  return plates.map(({ alternate }) => {
    if (alternate.space === 'CMYK') return alternate.values
    const four = [...found.subarray(4 * at, 4 * at + 4)].map(value => Math.min(1, Math.max(0, value)))
    at++
    return four as unknown as readonly [number, number, number, number]
  })
}

function madeOf(plate: InkPlate & { readonly reading: Reading }, { art }: PlateSheet): PlateMade {
  const { name, kind, reading, coverage, printed, opacity, hits, step } = plate
  return {
    name,
    kind,
    reading,
    coverage,
    areaMm2: printed * art[0] * art[1],
    opacity,
    hits,
    step: step && stepWords(step),
  }
}

const madeDie: PlateMade = {
  name: dielineName,
  kind: 'dieline',
  reading: 'right',
  coverage: null,
  areaMm2: null,
  opacity: null,
  hits: 1,
  step: null,
}

function sizesOf(
  { trim, bleed, art }: PlateSheet,
  media: MadePlates['sheet']['media'],
  { width, height }: Separated,
): MadePlates['sheet'] {
  return {
    trim,
    bleed,
    media,
    art: { widthMm: art[0], heightMm: art[1], width, height },
  }
}

const onlySketched: Finding = {
  severity: 'warning',
  code: 'white-only-sketched',
  where: 'job',
  message: 'it has no art: its only plate is the white of the sketch, at four pixels a millimetre',
  fix: 'Give it art before plates are made.',
}
