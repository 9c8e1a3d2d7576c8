import { basename } from 'node:path'
import type { Art, ArtFile, InkColor } from '../../core/art/layer.ts'
import { processCount } from '../../core/art/layer.ts'
import { checkCancelled, type Task } from '../../core/base/task.ts'
import { channelAmount } from '../../core/roles/amount.ts'
import { assignRoles } from '../../core/roles/assign.ts'
import type { RoleName } from '../../core/roles/role.ts'
import { noDecisions } from '../art-work.ts'
import { openArt } from '../placed-art.ts'
import { artAsked, artFlags } from './art-flags.ts'
import { type Command, jsonFlag } from './command.ts'
import { printable } from './printable.ts'
import { progressTask } from './progress.ts'
import { counted, decimals, table } from './table.ts'

export const channels: Command = {
  usage: {
    name: 'channels',
    says: 'every ink of the art by name: how much of it, what stands for it, how opaque, what it is',
    operands: ['ART'],
    flags: { ...artFlags, ...jsonFlag },
  },
  async run(args, output) {
    const { art: placed, reading } = await artAsked(args.operands[0]!, args)
    const task = progressTask(output, `Reading ${basename(placed.path)}`)
    const { file, close } = await openArt(placed, reading, task)
    try {
      const listed = await inksOf(file, task)
      output.progress(null)
      output.print(
        args.has('json')
          ? JSON.stringify({ name: file.art.name, format: file.art.format, channels: listed }, null, 2)
          : page(file.art, listed),
      )
    } finally {
      await close()
    }
  },
}

interface Listed {
  readonly name: string
  readonly kind: 'process' | 'spot' | 'alpha' | 'transparency'
  /** Mean over the document, 0..1. */
  readonly coverage: number
  /** Part of the pixels that have any of it, 0..1. */
  readonly painted: number
  /** What stands for a spot ink where a device lacks it. */
  readonly alternate: InkColor | null
  /** Opacity of its solid as the file states it, 0..1. */
  readonly solidity: number | null
  readonly order: number | null
  readonly role: RoleName | null
  readonly reason: string
}

/** Rows of planes that are held at once. */
const rowsAtOnce = 512

async function inksOf(file: ArtFile, task: Task): Promise<readonly Listed[]> {
  const { art } = file
  const roles = new Map(
    assignRoles(art, { aliases: noDecisions.aliases, choices: noDecisions.roles }).map(one => [
      `${one.target.kind} ${one.target.id}`,
      one,
    ]),
  )
  const process = processNames(art).map((name, plane) => ({
    name,
    kind: 'process' as const,
    plane,
    alternate: null,
    solidity: null,
    order: null,
    role: null,
    reason: 'process ink: prints the overprinted layers',
  }))
  const own = art.channels.map(channel => {
    const found = roles.get(`channel ${channel.id}`)
    return {
      name: channel.name,
      kind: channel.kind,
      plane: channel.plane,
      alternate: channel.ink,
      solidity: channel.opacity,
      order: channel.order ?? null,
      role: found?.role ?? null,
      reason: found?.reason ?? '',
    }
  })
  const all = [...process, ...own]
  const sums = all.map(() => ({ amount: 0, painted: 0 }))
  for (let top = 0; top < art.height; top += rowsAtOnce) {
    checkCancelled(task)
    task.progress?.(top / art.height, 'measuring the inks')
    const rows = { top, bottom: Math.min(art.height, top + rowsAtOnce) }
    for (const [i, { plane, kind }] of all.entries()) {
      const { box, data } = await file.documentPlane(plane, rows)
      const width = box.right - box.left
      const first = (rows.top - box.top) * width
      const last = (rows.bottom - box.top) * width
      const sum = sums[i]!
      for (let at = first; at < last; at++) {
        const amount = channelAmount(kind === 'process' ? 'spot' : kind, data, at)
        sum.amount += amount
        if (amount > 0) sum.painted++
      }
    }
  }
  const pixels = art.width * art.height
  return all.map(({ plane: _, ...one }, i) => ({
    ...one,
    coverage: round(sums[i]!.amount / pixels),
    painted: round(sums[i]!.painted / pixels),
  }))
}

const round = (part: number): number => Number(part.toFixed(6))

/** Process planes that are inks; of art in light there are none. */
function processNames({ colorMode }: Art): readonly string[] {
  if (colorMode === 'CMYK') return ['Cyan', 'Magenta', 'Yellow', 'Black']
  if (colorMode === 'Grayscale' && processCount(colorMode) === 1) return ['Black']
  return []
}

function page(art: Art, listed: readonly Listed[]): string {
  const percent = (part: number) => `${decimals(100 * part, 2)} %`
  const rows = listed.map(one => [
    printable(one.name),
    one.kind,
    percent(one.coverage),
    percent(one.painted),
    one.alternate === null ? '' : inkWords(one.alternate),
    one.solidity === null ? '' : `${decimals(100 * one.solidity, 0)} %`,
    one.role === null ? '' : roleWords(one.role),
    printable(one.reason),
  ])
  const titles = ['Name', 'Kind', 'Amount', 'Painted', 'Stands for it', 'Solidity', 'Part', 'Why']
  const aligns = ['left', 'left', 'right', 'right', 'left', 'right', 'left', 'left'] as const
  const head = `${art.name}  (${art.format})\n${counted(listed.length, 'ink')}`
  const light =
    art.colorMode === 'CMYK' || art.colorMode === 'Grayscale' || art.colorMode === 'Multichannel'
      ? ''
      : `\n${art.colorMode} art has no process inks of its own: it is separated for the press.`
  return listed.length === 0 ? `${head}${light}` : `${head}${light}\n${table([titles, ...rows], aligns, 2)}`
}

export function inkWords(ink: InkColor): string {
  const whole = ink.space === 'Lab'
  return `${ink.space} ${ink.values.map(value => decimals(whole ? value : value * 100, 0)).join(' ')}`
}

export const roleWords = (role: RoleName): string =>
  role.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`)
