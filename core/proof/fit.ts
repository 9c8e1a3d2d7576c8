import { BadInput } from '../base/finding.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import { textLength } from '../base/text85.ts'
import type { MaterialMap } from '../material/map.ts'
import { minify } from '../material/mip.ts'
import type { ProofDetail } from './manifest.ts'
import { packPlane, plainPlanes } from './pack.ts'
import type { Packed } from './planes.ts'

/** Coarser than this no proof is made: type of 6 pt is gone there. */
const leastPixelsPerInch = 60

export interface FittedMap {
  readonly map: MaterialMap
  readonly planes: readonly Packed[]
  readonly detail: ProofDetail
}

/**
 * The finest level of a map whose planes fit into a file.
 * Throws BadInput where none does, with what would; Cancelled when told to stop.
 * @param besides bytes of the file that are no planes
 * @param budget  most bytes of the file
 */
export function fitMap(whole: MaterialMap, besides: number, budget: number, task?: Task): FittedMap {
  let halvings = 0
  for (let map = whole; ; map = minify(map)) {
    const room = budget - besides
    const planes = packWithin(map, room, partOf(task, 1 - 2 ** -halvings, 1 - 2 ** -(halvings + 1)))
    if (planes !== null) return { map, planes, detail: detailOf(whole, map, halvings, budget) }
    halvings++
    if (Math.min(map.width, map.height) < 2 || perInch(map) / 2 < leastPixelsPerInch)
      throw tooSmall(map, besides, budget, task)
  }
}

/** All planes packed, or null as soon as they do not fit. */
function packWithin(map: MaterialMap, room: number, task?: Task): readonly Packed[] | null {
  const plain = plainPlanes(map)
  const all = plain.reduce((sum, { data }) => sum + data.length, 0)
  const packed: Packed[] = []
  let left = room
  let done = 0
  for (const plane of plain) {
    checkCancelled(task)
    task?.progress?.(done / all, 'packing')
    const one = packPlane(plane)
    left -= textLength(one.bytes.length)
    if (left < 0) return null
    packed.push(one)
    done += plane.data.length
  }
  return packed
}

/** What is said of a level. */
export function detailOf(
  whole: MaterialMap,
  map: MaterialMap,
  halvings: number,
  budget: number,
): ProofDetail {
  const pixelsPerInch = perInch(map)
  const wholePixelsPerInch = perInch(whole)
  const size = `${map.width} × ${map.height} places, ${Math.round(pixelsPerInch)} an inch`
  const says =
    halvings === 0
      ? `As fine as the job: ${size}.`
      : `Coarser than the job, so that the file stays below ${megabytes(budget)}: ${size}, where the job has ${Math.round(wholePixelsPerInch)}.`
  return { halvings, pixelsPerInch, wholePixelsPerInch, budget, says }
}

function tooSmall(map: MaterialMap, besides: number, budget: number, task?: Task): BadInput {
  const planes = packWithin(map, Number.POSITIVE_INFINITY, task) ?? []
  const needed = planes.reduce((sum, { bytes }) => sum + textLength(bytes.length), besides)
  return new BadInput(
    'budget-too-small',
    'the proof',
    'its size',
    `needs ${megabytes(needed, 'up')} even at ${Math.round(perInch(map))} pixels an inch, and may have ${megabytes(budget)}`,
    'Let it be larger',
  )
}

const perInch = ({ pixelsPerMm }: MaterialMap): number => 25.4 * pixelsPerMm

/** Rounded so that the number said is enough where it has to be. */
function megabytes(bytes: number, round: 'near' | 'up' = 'near'): string {
  const tenths = bytes / 100_000
  return `${(round === 'up' ? Math.ceil(tenths) : Math.round(tenths)) / 10} MB`
}
