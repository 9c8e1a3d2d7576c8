import { basename, dirname, join, resolve } from 'node:path'
import { sha256Hex } from '../../core/base/sha256.ts'
import { partOf } from '../../core/base/task.ts'
import {
  type MadePlates,
  mostBleedMm,
  type PlateGroup,
  type PlateMade,
  type PlateUse,
  plateFormats,
  plateGroups,
  plateUses,
  type Reading,
  readings,
  usualBleedMm,
  usualWish,
} from '../../core/export/plate-wish.ts'
import { jobStem } from '../../core/proof/names.ts'
import { shortId } from '../../core/proof/version.ts'
import { version, workerFile } from '../places.ts'
import { versionNow } from '../version-sources.ts'
import { WorkerPool } from '../worker-pool.ts'
import type { PlateCrafts } from '../workers/plates.ts'
import { makeFolder, requireWritable, writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import type { Command } from './command.ts'
import { listVersion, nameBeside } from './listed.ts'
import { numberOf } from './numbers.ts'
import { progressTask } from './progress.ts'
import { timeOf } from './proof.ts'
import { counted, decimals, table } from './table.ts'

export const plates: Command = {
  usage: {
    name: 'plates',
    says: 'separations of a job at true size, for an overlay proof or for press: a PDF, a TIFF of each, and outlines as SVG',
    operands: ['JOB'],
    flags: {
      output: {
        value: 'DIR|FILE.pdf|FILE.svg',
        short: 'o',
        needed: true,
        says: 'folder for the PDF, the TIFF of each plate and the outlines, made when it is not there; or the PDF or the outlines alone',
      },
      for: {
        value: 'USE',
        says: 'overlay: films laid on the foil, the dieline prints, so that they can be cut; press: it does not; overlay when left out',
      },
      reading: {
        value: 'SIDES',
        says: 'right, wrong, or by group, such as white=wrong: mirrored for a white that is printed on the back of the film, beneath it; groups are white, inks, varnish; right when left out',
      },
      marks: {
        value: 'on|off',
        says: 'register and cut marks, and a label, outside the trim; on when left out',
      },
      bleed: {
        value: 'MM',
        says: `how far print reaches past the trim, where the art has it; ${usualBleedMm} when left out`,
      },
      plates: { value: 'NAMES', says: 'only these, comma between; Dieline is all that is no ink' },
      made: {
        value: 'TIME',
        says: 'time that they are to carry, as 2026-03-04T09:30:00Z; now when left out. The same job and time make the same bytes',
      },
      json: { value: null, says: 'print what was written as JSON' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const target = args.need('output')
    const only = (['pdf', 'svg'] as const).find(ending => target.toLowerCase().endsWith(`.${ending}`))
    const alone = only !== undefined
    const wish = {
      use: purposeOf(args),
      reading: readingOf(args.value('reading')),
      marks: marksOf(args.value('marks')),
      bleedMm: bleedOf(args),
      plates: namesOf(args.value('plates')),
      formats: only === undefined ? plateFormats : [only],
    }
    const name = basename(jobPath)
    const madeAt = timeOf(args)
    const task = progressTask(output, `Plates of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    await (alone ? requireWritable(target) : makeFolder(target))
    const { job, art, assets, profile } = opened
    const of = await versionNow(opened, name, madeAt, partOf(task, 0, 0.05))
    const label = { jobName: jobStem(name), program: version, version: shortId(of.id), madeAt }
    const pool = new WorkerPool<PlateCrafts>(workerFile('plates'), 1)
    try {
      const order = { art, job, assets, profile, wish, label }
      const made = await pool.run('plates', order, partOf(task, 0.05, 1))
      output.progress(null)
      const written = await write(made, target, alone)
      const [first] = made.files
      const place = alone ? target : join(target, first!.name)
      const file = {
        name: nameBeside(jobPath, place),
        sha256: sha256Hex(first!.bytes),
        bytes: first!.bytes.length,
      }
      const listed = await listVersion(jobPath, of, file, output)
      output.print(
        args.has('json')
          ? JSON.stringify({ version: of.id, listed, ...report(wish, written, made) }, null, 2)
          : page(wish.use, made),
      )
      output.say(
        `Wrote ${counted(written.length, 'file')} to ${alone ? dirname(resolve(target)) : target}: version ${label.version} of ${name}.`,
      )
      if (only !== 'svg')
        output.say('Look at the PDF with overprint preview on: without it the last plate hides the others.')
    } finally {
      await pool.close()
    }
  },
}

interface Written {
  readonly file: string
  readonly plate: string | null
  readonly bytes: number
}

async function write({ files }: MadePlates, target: string, alone: boolean): Promise<readonly Written[]> {
  const written: Written[] = []
  for (const { name, bytes, plate } of files) {
    const path = alone ? target : join(target, name)
    await writeFileSafely(path, bytes)
    written.push({ file: basename(path), plate, bytes: bytes.length })
  }
  return written
}

function purposeOf(args: Args): PlateUse {
  const text = args.value('for') ?? usualWish.use
  const use = plateUses.find(one => one === text)
  if (use !== undefined) return use
  throw new UsageError(`--for: expected ${plateUses.join(' or ')}, got "${text}"`)
}

const isReading = (text: string): text is Reading => readings.some(one => one === text)
const isGroup = (text: string): text is PlateGroup => plateGroups.some(one => one === text)

function readingOf(text: string | undefined): Readonly<Record<PlateGroup, Reading>> {
  if (text === undefined) return usualWish.reading
  if (isReading(text)) return { white: text, inks: text, varnish: text }
  const own: Partial<Record<PlateGroup, Reading>> = {}
  for (const part of text.split(',')) {
    const [group = '', side = ''] = part.split('=').map(one => one.trim())
    if (!isGroup(group) || !isReading(side))
      throw new UsageError(
        `--reading: expected right, wrong, or GROUP=right|wrong with a group of ${plateGroups.join(', ')}, got "${part}"`,
      )
    if (own[group] !== undefined) throw new UsageError(`--reading: ${group} is given twice`)
    own[group] = side
  }
  return { ...usualWish.reading, ...own }
}

function marksOf(text = 'on'): boolean {
  if (text === 'on' || text === 'off') return text === 'on'
  throw new UsageError(`--marks: expected on or off, got "${text}"`)
}

function bleedOf(args: Args): number {
  const bleed = numberOf(args, 'bleed') ?? usualBleedMm
  if (bleed >= 0 && bleed <= mostBleedMm) return bleed
  throw new UsageError(`--bleed: expected 0 to ${mostBleedMm} mm, got ${bleed}`)
}

function namesOf(text: string | undefined): readonly string[] | null {
  if (text === undefined) return null
  const names = text
    .split(',')
    .map(one => one.trim())
    .filter(one => one !== '')
  if (names.length > 0) return names
  throw new UsageError('--plates: expected names, comma between')
}

const round = (value: number) => Number(value.toFixed(4))

function report(
  wish: Pick<typeof usualWish, 'use' | 'marks' | 'reading'>,
  written: readonly Written[],
  { plates: made, empty, sheet, findings }: MadePlates,
) {
  const { trim, bleed, media, art } = sheet
  return {
    for: wish.use,
    marks: wish.marks,
    sheet: { trimMm: trim.map(round), bleedMm: bleed.map(round), mediaMm: media?.map(round) ?? null, art },
    plates: made.map(one => ({
      ...one,
      coverage: one.coverage === null ? null : Number(one.coverage.toFixed(6)),
      areaMm2: one.areaMm2 === null ? null : round(one.areaMm2),
    })),
    empty,
    files: written,
    findings,
  }
}

function page(use: PlateUse, { plates: made, empty, sheet, findings }: MadePlates): string {
  const { trim, bleed, art } = sheet
  const mm = (value: number) => decimals(value, 2)
  const head = table(
    [
      ['For', use],
      ['Trim', `${mm(trim[0])} × ${mm(trim[1])} mm`],
      ['Bleed', `${bleed.map(mm).join(', ')} mm: left, bottom, right, top`],
      ['Art', `${art.width} × ${art.height} pixels on ${mm(art.widthMm)} × ${mm(art.heightMm)} mm`],
    ],
    ['left', 'left'],
  )
  const rows = made.map((one: PlateMade) => [
    one.name,
    one.kind,
    `${one.reading} reading`,
    one.coverage === null ? '' : `${decimals(100 * one.coverage, 1)} %`,
    one.opacity === null ? '' : `${decimals(100 * one.opacity, 0)} %`,
    one.step ?? '',
  ])
  const list = table(
    [['Plate', 'Kind', 'Reading', 'Coverage', 'Opacity', 'Step'], ...rows],
    ['left', 'left', 'left', 'right', 'right', 'left'],
    2,
  )
  return [
    head,
    `${counted(made.length, 'plate')}, laid down from the top of the list\n${list}`,
    ...(empty.length > 0 ? [`Nothing is printed of ${empty.join(', ')}.`] : []),
    ...findings.map(({ severity, where, message, fix }) => `${severity}: ${where}: ${message}. ${fix}`),
  ].join('\n\n')
}
