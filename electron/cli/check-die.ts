import { basename } from 'node:path'
import type { Art } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { isLengthUnit, type LengthUnit, unitMm } from '../../core/art/svg/length.ts'
import { BadInput } from '../../core/base/finding.ts'
import type { Task } from '../../core/base/task.ts'
import { lineKinds } from '../../core/carton/die.ts'
import { drawingOfArt } from '../../core/carton/read/art-drawing.ts'
import type { DieFinding, Drawing } from '../../core/carton/read/drawing.ts'
import type { Alias, ReadKind } from '../../core/carton/read/kind-words.ts'
import { type DieOptions, type DieReading, readDie } from '../../core/carton/read/read-die.ts'
import { artSizeFindings } from '../../core/carton/read/size.ts'
import { readSvg } from '../../core/carton/read/svg.ts'
import { openFile } from '../file-source.ts'
import { openArt } from '../placed-art.ts'
import { readWhole } from '../read-whole.ts'
import { type Args, UsageError } from './args.ts'
import { artAsked, pageFlags } from './art-flags.ts'
import { type Command, jsonFlag } from './command.ts'
import { progressTask } from './progress.ts'
import { counted, decimals, table } from './table.ts'

/** Flags that say what a layer's name or a colour stands for. */
const kindFlags = {
  cut: 'cut',
  crease: 'crease',
  perforation: 'perforation',
  ignore: 'other',
} as const satisfies Record<string, ReadKind>

const says = (what: string) => `layer names or colours that ${what}, comma between`

export const checkDie: Command = {
  usage: {
    name: 'check-die',
    says: 'what a dieline drawing lacks, and the panels it folds into; exit code 1 when it cannot be folded',
    operands: ['FILE'],
    flags: {
      unit: { value: 'UNIT', says: 'what one unit of an SVG is, where it does not say: mm, cm, in, pt, px' },
      cut: { value: 'NAMES', says: says('are cut') },
      crease: { value: 'NAMES', says: says('are creased') },
      perforation: { value: 'NAMES', says: says('are perforated') },
      ignore: { value: 'NAMES', says: says('do not belong to the die') },
      art: { value: 'WxH', says: 'size of the art in mm, to be compared with the die' },
      ...pageFlags,
      ...jsonFlag,
    },
  },
  async run(args, output) {
    const path = args.operands[0]!
    const name = basename(path)
    const task = progressTask(output, `Reading ${name}`)
    const options = optionsOf(args)
    const artSize = sizeOf(args.value('art'))
    const drawing = await drawingOf(path, args, unitOf(args.value('unit')), options, task)
    const reading = readDie(drawing, options, task)
    output.progress(null)
    const findings = [...reading.findings, ...(artSize === null ? [] : artSizeFindings(reading, artSize))]
    output.print(
      args.has('json')
        ? JSON.stringify(report(drawing, reading, findings), null, 2)
        : page(drawing, reading, findings),
    )
    if (reading.blank !== null) return
    const errors = findings.filter(({ severity }) => severity === 'error')
    const [first] = errors
    throw new BadInput(
      'die-not-foldable',
      name,
      'the die',
      `cannot be folded (${counted(errors.length, 'fault')})`,
      first === undefined ? 'See the findings.' : `First: ${first.message}. ${first.fix}`,
    )
  },
}

/** What a page of a PDF says; nothing of it is painted. */
async function drawnAt(path: string, args: Args, task: Task): Promise<Art> {
  const { art, reading } = await artAsked(path, args)
  const { file, close } = await openArt(art, reading, task)
  await close()
  return file.art
}

async function drawingOf(
  path: string,
  args: Args,
  unit: LengthUnit | undefined,
  { aliases = [] }: DieOptions,
  task: Task,
): Promise<Drawing> {
  const file = await openFile(path)
  try {
    const start = file.size < 4 ? '' : String.fromCharCode(...(await file.read(0, 4)))
    if (start === '8BPS') {
      if (unit !== undefined)
        throw new UsageError('check-die: --unit is for SVG; a layered file states its resolution')
      return drawingOfArt((await readArt(file, {}, task)).art, aliases)
    }
    if (start === '%PDF') {
      if (unit !== undefined) throw new UsageError('check-die: --unit is for SVG; a PDF states its size')
      return drawingOfArt(await drawnAt(path, args, task), aliases)
    }
  } finally {
    await file.close()
  }
  return readSvg(await readWhole(path), basename(path), unit === undefined ? {} : { unit })
}

/** Thickness of the board does not change what is found. */
const anyCaliper = 0.4

function optionsOf(args: Args): DieOptions {
  const aliases: Alias[] = []
  const colors: Record<string, ReadKind> = {}
  for (const [flag, kind] of Object.entries(kindFlags))
    for (const word of (args.value(flag) ?? '').split(',').map(one => one.trim())) {
      if (word === '') continue
      if (/^#[0-9a-f]{3,8}$/i.test(word)) colors[word] = kind
      else {
        aliases.push({ name: word, kind })
        colors[word] = kind
      }
    }
  return { caliperMm: anyCaliper, aliases, colors }
}

function unitOf(text: string | undefined): LengthUnit | undefined {
  if (text === undefined || isLengthUnit(text)) return text
  throw new UsageError(`--unit: expected ${Object.keys(unitMm).join(', ')}, got "${text}"`)
}

function sizeOf(text: string | undefined): { widthMm: number; heightMm: number } | null {
  if (text === undefined) return null
  const [, width, height] = /^(\d+(?:\.\d+)?)[x×](\d+(?:\.\d+)?)$/.exec(text) ?? []
  if (width !== undefined && height !== undefined && Number(width) > 0 && Number(height) > 0)
    return { widthMm: Number(width), heightMm: Number(height) }
  throw new UsageError(`--art: expected WxH in mm, e.g. 212x210, got "${text}"`)
}

const round = (value: number) => Number(value.toFixed(4))

function report(drawing: Drawing, reading: DieReading, findings: readonly DieFinding[]): object {
  const { die, blank } = reading
  const point = ([x, y]: readonly [number, number]) => [round(x), round(y)]
  return {
    name: drawing.name,
    foldable: blank !== null,
    unit: drawing.scale,
    blank: [round(reading.widthMm), round(reading.heightMm)],
    origin: point(reading.origin),
    lines: Object.fromEntries(
      lineKinds.map(kind => [kind, die.lines.filter(line => line.kind === kind).length]),
    ),
    root: blank?.root ?? null,
    panels: reading.panels.map(({ name, areaMm2, outline, windows }) => ({
      name,
      areaMm2: round(areaMm2),
      outline: outline.map(point),
      windows: windows.map(window => window.map(point)),
    })),
    hinges: (blank?.hinges ?? []).map(({ name, parent, child, from, to, closedDeg }) => ({
      name,
      parent,
      child,
      from: point(from),
      to: point(to),
      closedDeg,
    })),
    findings: findings.map(finding => ({ ...finding, at: finding.at === null ? null : point(finding.at) })),
  }
}

function page(drawing: Drawing, reading: DieReading, findings: readonly DieFinding[]): string {
  return [head(drawing, reading), panelTable(reading), findingList(findings)].filter(Boolean).join('\n\n')
}

function head(drawing: Drawing, { die, blank, widthMm, heightMm }: DieReading): string {
  const unit = { stated: 'as the file states', assumed: 'assumed', given: 'as you said' }[drawing.scale.from]
  const lines = lineKinds
    .map(kind => [kind, die.lines.filter(line => line.kind === kind).length] as const)
    .filter(([, count]) => count > 0)
    .map(([kind, count]) => `${count} ${kind}`)
  const rows = [
    ['Blank', `${decimals(widthMm, 1)} × ${decimals(heightMm, 1)} mm`],
    ['Unit', `${Number(drawing.scale.mm.toFixed(4))} mm, ${unit}`],
    ['Lines', lines.join(', ') || 'none'],
    ['Folds', blank === null ? 'no' : `yes, around ${blank.root}`],
  ]
  return `${printable(drawing.name)}\n${table(rows, ['left', 'left'], 2)}`
}

function panelTable({ panels, blank }: DieReading): string {
  if (panels.length === 0) return ''
  const hangs = new Map(blank?.hinges.map(({ child, parent }) => [child, parent]))
  const rows = panels.map(({ name, areaMm2 }) => [
    name,
    decimals(areaMm2 / 100, 1),
    blank === null ? '' : (hangs.get(name) ?? 'stays'),
  ])
  const titles = ['Name', 'Area, cm²', blank === null ? '' : 'Hangs on']
  return `${counted(panels.length, 'panel')}\n${table([titles, ...rows], ['left', 'right', 'left'], 2)}`
}

function findingList(findings: readonly DieFinding[]): string {
  if (findings.length === 0) return 'Nothing to report.'
  const items = findings.map(({ severity, where, at, message, fix }) => {
    const place = at === null ? '' : ` at x ${decimals(at[0], 1)}, y ${decimals(at[1], 1)} mm`
    return `  ${severity}  ${printable(where)}${place}: ${printable(message)}\n    ${fix}`
  })
  return `${counted(findings.length, 'finding')}; places from the blank's lower left corner\n${items.join('\n')}`
}

/** A name as one line of a terminal, which must not obey it. */
function printable(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return name.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
}
