import { compositeStrips } from '../art/composite.ts'
import { type Art, type ArtFile, type InkColor, processCount } from '../art/layer.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import { channelAmount } from './amount.ts'
import { assignRoles } from './assign.ts'
import { knockingLayers } from './knocking.ts'
import type { Assigned, RoleName } from './role.ts'

/** An ink of a piece of art, or a channel that is none, with how much of it there is. */
export interface ListedInk {
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

/**
 * Every ink of the art by the rules alone, the process inks first: these as the layers print that are overprint, the
 * others as their planes have them. Of art in light there are no process inks.
 */
export async function listInks(file: ArtFile, task?: Task): Promise<readonly ListedInk[]> {
  const assigned = assignRoles(file.art, { aliases: [], choices: [] })
  return [
    ...(await processInks(file, assigned, partOf(task, 0, 0.5))),
    ...(await channelInks(file, assigned, partOf(task, 0.5, 1))),
  ]
}

async function processInks(
  file: ArtFile,
  assigned: readonly Assigned[],
  task: Task,
): Promise<readonly ListedInk[]> {
  const { art } = file
  const names = processNames(art)
  const printed = new Set(
    assigned
      .filter(({ role, target }) => role === 'overprint' && target.kind === 'layer')
      .map(({ target }) => target.id),
  )
  const sums = names.map(() => new Sum())
  if (names.length > 0 && printed.size > 0) {
    const knocking = new Set(knockingLayers(art, assigned))
    const options = { include: ({ id }: { readonly id: string }) => printed.has(id), knocking }
    for await (const { planes, alpha } of compositeStrips(file, options, task))
      for (const [c, sum] of sums.entries()) {
        const plane = planes[c]!
        for (let i = 0; i < alpha.length; i++) sum.add(alpha[i]! * (1 - plane[i]!))
      }
  }
  return names.map((name, c) => ({
    name,
    kind: 'process',
    ...sums[c]!.over(art),
    alternate: null,
    solidity: null,
    order: null,
    role: null,
    reason: 'process ink: prints the overprinted layers',
  }))
}

async function channelInks(
  file: ArtFile,
  assigned: readonly Assigned[],
  task: Task,
): Promise<readonly ListedInk[]> {
  const { art } = file
  const sums = art.channels.map(() => new Sum())
  for (let top = 0; top < art.height && sums.length > 0; top += rowsAtOnce) {
    checkCancelled(task)
    task.progress?.(top / art.height, 'measuring the inks')
    const rows = { top, bottom: Math.min(art.height, top + rowsAtOnce) }
    for (const [i, { plane, kind }] of art.channels.entries()) {
      const { box, data } = await file.documentPlane(plane, rows)
      const width = box.right - box.left
      const last = (rows.bottom - box.top) * width
      for (let at = (rows.top - box.top) * width; at < last; at++) sums[i]!.add(channelAmount(kind, data, at))
    }
  }
  return art.channels.map((channel, i) => {
    const found = assigned.find(({ target }) => target.kind === 'channel' && target.id === channel.id)
    return {
      name: channel.name,
      kind: channel.kind,
      ...sums[i]!.over(art),
      alternate: channel.ink,
      solidity: channel.opacity,
      order: channel.order ?? null,
      role: found?.role ?? null,
      reason: found?.reason ?? '',
    }
  })
}

class Sum {
  #amount = 0
  #painted = 0

  add(amount: number): void {
    this.#amount += amount
    if (amount > 0) this.#painted++
  }

  over({ width, height }: Art): Pick<ListedInk, 'coverage' | 'painted'> {
    const pixels = width * height
    return { coverage: round(this.#amount / pixels), painted: round(this.#painted / pixels) }
  }
}

const round = (part: number): number => Number(part.toFixed(6))

/** Process planes that are inks. */
function processNames({ colorMode }: Art): readonly string[] {
  if (colorMode === 'CMYK') return ['Cyan', 'Magenta', 'Yellow', 'Black']
  if (colorMode === 'Grayscale' && processCount(colorMode) === 1) return ['Black']
  return []
}
