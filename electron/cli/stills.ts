import { basename, dirname, join } from 'node:path'
import {
  type StillFormat,
  type StillKind,
  type StillsWish,
  stillKinds,
  stillLimits,
  usualContact,
} from '../../core/export/stills/wish.ts'
import { fileStem } from '../../core/proof/names.ts'
import { version } from '../places.ts'
import { makeFolder, writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { type Command, jsonFlag } from './command.ts'
import { countOf, numbersOf, sizeOf } from './numbers.ts'
import { inPictureWorker, workFrom } from './picture-worker.ts'
import { progressTask } from './progress.ts'

const endings = { png: /\.png$/i, tiff: /\.tiff?$/i, exr: /\.exr$/i } as const

export const stills: Command = {
  usage: {
    name: 'stills',
    says: 'single pictures: over tilt and turn, best, darkest and worst glare, each panel, named lights',
    operands: ['JOB'],
    flags: {
      out: {
        value: 'PLACE',
        short: 'o',
        needed: true,
        says: 'folder for the pictures, made when it is not there; or, for one picture, a file .png, .tif or .exr',
      },
      what: {
        value: 'KINDS',
        says: `parted by commas: ${stillKinds.join(', ')}; contact, best, darkest, glare when left out, for one file contact`,
      },
      format: { value: 'NAME', says: 'png, tiff or exr (linear light); png when left out' },
      depth: {
        value: 'BITS',
        says: 'png and tiff: 8 or 16, 8 when left out; exr: 16 or 32, 16 when left out',
      },
      size: { value: 'WxH', says: 'of each picture but a contact sheet, pixels; 1200x1200 when left out' },
      cell: { value: 'WxH', says: 'of each picture of a contact sheet, pixels; 320x320 when left out' },
      tilt: { value: 'FROM,TO,COUNT', says: 'rows of a contact sheet, degrees; 30,-30,5 when left out' },
      turn: { value: 'FROM,TO,COUNT', says: 'its columns, degrees; -60,60,5 when left out' },
      ...jsonFlag,
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const out = args.need('out')
    const one = Object.values(endings).some(ending => ending.test(out))
    const wish = wishOf(args, out, one)
    const [only, ...more] = wish.what
    if (one && (more.length > 0 || only === 'panels' || only === 'lights'))
      throw new UsageError(
        'stills: one kind of picture goes into one file, no panels or lights; name a folder',
      )
    const name = basename(jobPath)
    const task = progressTask(output, `Pictures of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, task)
    await makeFolder(one ? dirname(out) : out)
    const stem = fileStem(name)
    const software = `rakelight ${version}`
    const files = await inPictureWorker('stills', { ...workFrom(opened), wish, stem, software }, task)
    output.progress(null)
    const written: { readonly file: string; readonly shows: string; readonly bytes: number }[] = []
    for (const { name: own, bytes, title } of files) {
      const path = one ? out : join(out, own)
      await writeFileSafely(path, bytes)
      written.push({ file: path, shows: title, bytes: bytes.length })
    }
    if (args.has('json'))
      output.print(JSON.stringify({ job: name, format: wish.format, files: written }, null, 2))
    for (const { file, shows } of written) output.say(`Wrote ${file}: ${shows}.`)
    if (written.length === 0) output.say('There is nothing to see of this carton.')
  },
}

function wishOf(args: Args, out: string, one: boolean): StillsWish {
  const size = sizeOf(args.value('size') ?? '1200x1200', 'size', stillLimits.side)
  const cell = sizeOf(args.value('cell') ?? '320x320', 'cell', stillLimits.cell)
  for (const [flag, { width, height }] of [
    ['size', size],
    ['cell', cell],
  ] as const)
    if (Math.min(width, height) < stillLimits.least)
      throw new UsageError(`--${flag}: at least ${stillLimits.least} pixels a side`)
  return {
    what: kindsOf(args.value('what') ?? (one ? 'contact' : 'contact,best,darkest,glare')),
    format: formatOf(args, out),
    ...size,
    contact: {
      tilt: anglesOf(args, 'tilt', stillLimits.tiltDeg) ?? usualContact.tilt,
      turn: anglesOf(args, 'turn', stillLimits.turnDeg) ?? usualContact.turn,
      cellWidth: cell.width,
      cellHeight: cell.height,
    },
  }
}

function kindsOf(text: string): readonly StillKind[] {
  const words = [...new Set(text.split(',').map(word => word.trim()))]
  return words.map(word => {
    const found = stillKinds.find(kind => kind === word)
    if (found === undefined)
      throw new UsageError(`--what: expected some of ${stillKinds.join(', ')}, got "${word}"`)
    return found
  })
}

function formatOf(args: Args, out: string): StillFormat {
  const ended = (['png', 'tiff', 'exr'] as const).find(kind => endings[kind].test(out))
  const said = args.value('format')
  if (said !== undefined && ended !== undefined && said !== ended)
    throw new UsageError(`--format: ${said} does not go with the file's ending, ${out}`)
  const kind = said ?? ended ?? 'png'
  const depth = args.value('depth')
  switch (kind) {
    case 'png':
    case 'tiff':
      if (depth === undefined || depth === '8') return { kind, depth: 8 }
      if (depth === '16') return { kind, depth: 16 }
      throw new UsageError(`--depth: ${kind} has 8 or 16 bits, got "${depth}"`)
    case 'exr':
      if (depth === undefined || depth === '16') return { kind, depth: 16 }
      if (depth === '32') return { kind, depth: 32 }
      throw new UsageError(`--depth: exr has 16 or 32 bits, got "${depth}"`)
    default:
      throw new UsageError(`--format: expected png, tiff or exr, got "${kind}"`)
  }
}

function anglesOf(args: Args, flag: string, most: number) {
  const numbers = numbersOf(args, flag, ['FROM', 'TO', 'COUNT'])
  if (numbers === undefined) return undefined
  const [fromDeg, toDeg, count] = numbers as [number, number, number]
  if (Math.abs(fromDeg) > most || Math.abs(toDeg) > most)
    throw new UsageError(`--${flag}: angles from -${most} to ${most} degrees`)
  return { fromDeg, toDeg, count: countOf(String(count), `${flag}: COUNT`, 1, stillLimits.angles) }
}
