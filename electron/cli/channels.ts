import { basename } from 'node:path'
import type { Art, InkColor } from '../../core/art/layer.ts'
import { type ListedInk, listInks } from '../../core/roles/ink-list.ts'
import type { RoleName } from '../../core/roles/role.ts'
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
      const listed = await listInks(file, task)
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

function page(art: Art, listed: readonly ListedInk[]): string {
  const percent = (part: number) => `${decimals(100 * part, 2)} %`
  const isOrdered = listed.some(one => one.order !== null)
  const rows = listed.map(one => [
    printable(one.name),
    one.kind,
    percent(one.coverage),
    percent(one.painted),
    one.alternate === null ? '' : inkWords(one.alternate),
    one.solidity === null ? '' : `${decimals(100 * one.solidity, 0)} %`,
    ...(isOrdered ? [one.order === null ? '' : String(one.order + 1)] : []),
    one.role === null ? '' : roleWords(one.role),
    printable(one.reason),
  ])
  const place = isOrdered ? ['Printed as'] : []
  const titles = ['Name', 'Kind', 'Amount', 'Painted', 'Alternate', 'Solidity', ...place, 'Part', 'Why']
  const aligns = titles.map(title =>
    ['Amount', 'Painted', 'Solidity', 'Printed as'].includes(title) ? 'right' : 'left',
  )
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
