import type { ArtFile } from '../art/layer.ts'
import { BadInput, type Finding } from '../base/finding.ts'
import { stroked } from '../base/polygons.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import type { Point } from '../carton/die.ts'
import { forPictures } from '../color/profile.ts'
import type { Job } from '../job/job.ts'
import { coverageRows, unionRows } from '../material/coverage.ts'
import type { Press } from '../material/inks.ts'
import { outlineRows } from '../material/outline-rows.ts'
import { platesOf, type RoleTable } from '../material/plates.ts'
import { fileStem, proofLabel } from '../proof/names.ts'
import type { Assigned } from '../roles/role.ts'
import { PackedPlane } from './packed-plane.ts'
import { dielineName } from './plate-names.ts'
import { areaOutlines } from './plate-outlines.ts'
import { type PageSize, platePdf } from './plate-pdf.ts'
import { type PlateSheet, plateSheet } from './plate-sheet.ts'
import { technicals } from './plate-technical.ts'
import type { MadePlates, PlateLabel, PlateMade, PlateWish, Reading } from './plate-wish.ts'
import { type Alternate, type InkPlate, type Separated, type SeparateOptions, separate } from './plates.ts'
import { stepWords } from './processing-steps.ts'
import { type TiffHead, writeTiff } from './tiff.ts'

/** A job's art with all that its plates are made from. */
export interface PlateWork {
  readonly file: ArtFile
  readonly job: Job
  readonly options: SeparateOptions & { readonly assigned: readonly Assigned[]; readonly press: Press }
  readonly wish: PlateWish
  readonly label: PlateLabel
}

/** Colorants that a colour space of several may have. Source: ISO 32000-1, annex C, table C.1. */
const mostInks = 32

/**
 * The plates of a job as files. Throws BadInput for plates that are not there, Cancelled when told to stop.
 */
export async function makePlates(work: PlateWork, task?: Task): Promise<MadePlates> {
  const { file, job, options, wish, label } = work
  const separated = await separate(file, options, partOf(task, 0, 0.45))
  const sheet = plateSheet(job, file.art, wish.bleedMm)
  const findings: Finding[] = [...separated.findings, ...sheet.findings]
  if (job.art === null) findings.push(onlySketched)
  const die = await dieline(file, options, sheet, findings, partOf(task, 0.45, 0.55))
  const { plates, withDie } = chosen(separated, die !== null, wish, job.art?.path ?? file.art.name)
  const read = plates.map(plate => ({ ...plate, reading: wish.reading[plate.group] }))
  const inks = cmykOf(read, options.press, file.art.name)
  const files: MadePlates['files'][number][] = []
  const areas = withDie ? await areaOutlines(file, options, findings, partOf(task, 0.55, 0.7)) : []
  const { bytes, page } = await platePdf(
    {
      use: wish.use,
      plates: read.map((plate, i) => ({ ...plate, cmyk: inks[i]! })),
      technicals: withDie ? technicals(sheet, areas) : [],
      dieInPixels: withDie && sheet.die === null ? die : null,
      sheet,
      marks: wish.marks,
      label,
      condition: {
        name: options.press.condition?.name ?? options.press.name ?? 'CMYK',
        profile: options.press.profile,
      },
    },
    partOf(task, 0.7, 0.85),
  )
  if (wish.formats.includes('pdf'))
    files.push({ name: `${fileStem(label.jobName)}.plates.pdf`, bytes, plate: null })
  if (wish.formats.includes('tiff')) {
    const pictures = [
      ...read.map(({ name, plane, reading }) => ({ name, plane, reading })),
      ...(die && withDie ? [{ name: dielineName, plane: die, reading: 'right' as Reading }] : []),
    ]
    files.push(...tiffs(pictures, read, sheet, work, partOf(task, 0.85, 1)))
  }
  return {
    files,
    plates: [...read.map(plate => madeOf(plate, sheet)), ...(withDie && (die || sheet.die) ? [madeDie] : [])],
    empty: separated.empty,
    sheet: sizesOf(sheet, page, separated),
    findings,
  }
}

/** The plates that are asked for, in the order of the press. */
function chosen(
  { plates }: Separated,
  hasDie: boolean,
  { plates: names }: PlateWish,
  subject: string,
): { readonly plates: readonly InkPlate[]; readonly withDie: boolean } {
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

const tooMany = (subject: string, count: number) =>
  new BadInput(
    'too-many-plates',
    subject,
    'plates',
    `there are ${count}, and a page holds ${mostInks}`,
    'Name those that are wanted',
  )

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

/** Width of the die's lines on a plate of pixels, mm. */
const lineMm = 0.2

/**
 * The die on the art's pixels: its vectors as fine lines, else the layers that draw it. Null where there is none.
 */
async function dieline(
  file: ArtFile,
  { assigned, panel }: SeparateOptions,
  { die, arts }: PlateSheet,
  findings: Finding[],
  task: Task,
): Promise<PackedPlane | null> {
  const { art } = file
  const at = arts[0]?.at
  const strips = {
    rows: stripRows,
    keep: 32 * 2 ** 20,
    task: task.signal ? { signal: task.signal } : undefined,
  }
  if (die && die.lines.length > 0 && at) {
    const lines = die.lines.map(({ points }) => points.map(([x, y]): Point => [x - at[0], y - at[1]]))
    const outline = { id: dielineName, name: dielineName, rings: stroked(lines, lineMm) }
    const sheet = { width: art.width, height: art.height, ...panel }
    return filledPlane(art, [outlineRows(sheet, outline)], task)
  }
  const roles: RoleTable = new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  const sources = platesOf(art, 'dieline', roles, findings).flatMap(plate => plate.sources)
  if (sources.length === 0) return null
  findings.push(dieInPixels)
  return filledPlane(
    art,
    sources.map(source => coverageRows(file, source, strips, 'amount')),
    task,
  )
}

const stripRows = 128

async function filledPlane(
  { width, height }: { readonly width: number; readonly height: number },
  sources: Parameters<typeof unionRows>[0],
  task: Task,
): Promise<PackedPlane> {
  const plane = new PackedPlane(width, height)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task.progress?.(top / height, 'Drawing the dieline')
    const { data } = await unionRows(sources, width, top, Math.min(height, top + stripRows))
    plane.push(Uint8Array.from(data, part => Math.round(255 * Math.min(1, Math.max(0, part)))))
  }
  return plane
}

interface PlatePicture {
  readonly name: string
  readonly plane: PackedPlane
  readonly reading: Reading
}

/** A grey picture of each plate, 255 = solid, and one of all inks; mirrored where they are wrong reading. */
function tiffs(
  pictures: readonly PlatePicture[],
  inks: readonly (InkPlate & { readonly reading: Reading })[],
  { art }: PlateSheet,
  { file, label }: PlateWork,
  task: Task,
): MadePlates['files'] {
  const { width, height } = file.art
  const head = {
    width,
    height,
    depth: 8,
    icc: null,
    pixelsPerMm: [width / art[0], height / art[1]],
    packed: 'deflate',
    software: `rakelight ${label.program}`,
    madeAt: label.madeAt.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
  } satisfies Partial<TiffHead>
  const many = inks.length > 1 && new Set(inks.map(({ reading }) => reading)).size === 1
  const count = pictures.length + (many ? 1 : 0)
  const step = (i: number) => (done: number) => {
    checkCancelled(task)
    task.progress?.((i + done) / count, 'Writing pictures')
  }
  const said = (what: string, reading: Reading) =>
    `${label.jobName}: ${what}; 255 = solid, 0 = nothing; ${reading} reading; version ${label.version}; ${proofLabel}`
  const names = fileWords(pictures.map(({ name }) => name))
  const out = pictures.map(({ name, plane, reading }, i) => ({
    name: `${fileStem(label.jobName)}.${names[i]!}.tif`,
    plate: name,
    bytes: writeTiff(
      { ...head, color: { kind: 'grey', white: 'zero' }, description: said(`plate ${name}`, reading) },
      (top, bottom) => turned(plane.rows(top, bottom), width, reading),
      step(i),
    ),
  }))
  if (!many) return out
  // C, M, Y, K stand first, so that readers who know no other inks show these.
  const order = [...inks].sort((a, b) => Number(b.kind === 'process') - Number(a.kind === 'process'))
  const { reading } = order[0]!
  return [
    ...out,
    {
      name: `${fileStem(label.jobName)}.inks.tif`,
      plate: null,
      bytes: writeTiff(
        {
          ...head,
          color: { kind: 'inks', names: order.map(({ name }) => name) },
          description: said('all inks', reading),
        },
        (top, bottom) =>
          interleaved(order.map(({ plane }) => turned(plane.rows(top, bottom), width, reading))),
        step(pictures.length),
      ),
    },
  ]
}

function turned(rows: Uint8Array, width: number, reading: Reading): Uint8Array {
  if (reading === 'right') return rows
  for (let at = 0; at < rows.length; at += width) rows.subarray(at, at + width).reverse()
  return rows
}

function interleaved(planes: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(planes[0]!.length * planes.length)
  for (const [c, plane] of planes.entries())
    for (let i = 0, at = c; i < plane.length; i++, at += planes.length) out[at] = plane[i]!
  return out
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
  page: PageSize,
  { width, height }: Separated,
): MadePlates['sheet'] {
  return {
    trim,
    bleed,
    media: [page.width, page.height],
    art: { widthMm: art[0], heightMm: art[1], width, height },
  }
}

/** A name as part of a file's name on any system. */
function fileWord(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  const word = name.replace(/[\u0000-\u001f\u007f<>:"/\\|?*]+/g, '-').replace(/^[. ]+|[. ]+$/g, '')
  return [...word].slice(0, 80).join('') || 'plate'
}

/** The same for several, none twice. */
function fileWords(names: readonly string[]): readonly string[] {
  const taken = new Set(['inks', 'plates'])
  return names.map(name => {
    const base = fileWord(name)
    let free = base
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${base} ${n}`
    taken.add(free.toLowerCase())
    return free
  })
}

const onlySketched: Finding = {
  severity: 'warning',
  code: 'white-only-sketched',
  where: 'job',
  message: 'it has no art: its only plate is the white of the sketch, at four pixels a millimetre',
  fix: 'Give it art before plates are made.',
}

const dieInPixels: Finding = {
  severity: 'warning',
  code: 'dieline-in-pixels',
  where: 'dieline',
  message:
    'the art draws it in pixels, where cuts and creases cannot be told apart: it is a picture of its own, and no lines',
  fix: 'Choose a carton, or keep the die as shape layers named "cut" and "crease".',
}
