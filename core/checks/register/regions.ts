import { either, type Rings, shared, thinned } from '../../base/polygons.ts'
import type { Task } from '../../base/task.ts'
import type { CheckInput } from '../input.ts'
import { kept } from '../keeper.ts'
import { ContourTracer } from './contours.ts'
import { dieRings } from './die-rings.ts'
import { artRows, drawnOnMap, mapRows, rowsOf } from './group-rows.ts'
import type { Group } from './groups.ts'
import { type PackedRings, packedRings, ringsOf } from './packed-rings.ts'
import type { RowPicture } from './row-picture.ts'

/** Where each group prints or cuts, mm from the art's lower left corner; a group that is not there is left out. */
export type Regions = ReadonlyMap<Group, Rings>

/** What edges are read from. */
export type RegionInput = Pick<CheckInput, 'art' | 'file' | 'assigned' | 'map' | 'blank' | 'corners' | 'keep'>

/**
 * Edges of the groups: from the art's own outlines and planes where there is art, else from the map. A colour counts from a fifth
 * of an ink on, white and holography from a half of their plate.
 */
export async function regionsOf(input: RegionInput, task?: Task): Promise<Regions> {
  return unpacked(await edgesOf(input, task))
}

/** The same as they are kept: equal objects, equal edges. */
export async function edgesOf(input: RegionInput, task?: Task): Promise<ReadonlyMap<Group, PackedRings>> {
  const out = new Map<Group, PackedRings>()
  for (const group of ['holography', 'white', 'colour'] as const) {
    const rings = await kept(input, `register, edges of ${group}`, [], own => groupEdges(own, group, task))
    if (rings.ends.length > 0) out.set(group, rings)
  }
  const die = await kept(input, 'register, edges of die', [], own => {
    const rings = dieRings(own)
    return rings !== null && shared(rings, frameOf(own.map)).length > 0 ? packedRings(rings) : null
  })
  if (die !== null) out.set('die', die)
  return out
}

export const unpacked = (edges: ReadonlyMap<Group, PackedRings>): Regions =>
  new Map(Array.from(edges, ([group, rings]) => [group, ringsOf(rings)]))

async function groupEdges(
  input: RegionInput,
  group: Exclude<Group, 'die'>,
  task: Task | undefined,
): Promise<PackedRings> {
  const { map, file } = input
  if (file === null) return packedRings(await joinedRings([], [mapRows(map, group, () => true)], map, task))
  // The art stays the same while areas are drawn on the map.
  const ofArt = await kept(input, `register, edges of ${group} in the art`, [], async own =>
    packedRings(await joinedRings([], artRows(own.assigned, own.file!, group, task), own.map, task)),
  )
  const drawn = drawnOnMap(map, file.art, group)
  return drawn.length === 0 ? ofArt : packedRings(await joinedRings(ringsOf(ofArt), drawn, map, task))
}

async function joinedRings(
  first: Rings,
  pictures: readonly RowPicture[],
  map: CheckInput['map'],
  task: Task | undefined,
): Promise<Rings> {
  let rings = first
  for (const picture of pictures) {
    const traced = await tracedRings(picture, map, task)
    rings = rings.length === 0 ? traced : traced.length === 0 ? rings : either(rings, traced)
  }
  return rings
}

/** Corners nearer than this part of a pixel to a straight edge are none. */
const evenPart = 0.06

async function tracedRings(
  picture: RowPicture,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  task: Task | undefined,
): Promise<Rings> {
  const pixel = [widthMm / picture.width, heightMm / picture.height] as const
  const tracer = new ContourTracer(picture.width, pixel, heightMm)
  for await (const row of rowsOf(picture, task)) tracer.push(row)
  return thinned(tracer.finish(), evenPart * Math.min(...pixel))
}

/** The art's own edge. */
export const frameOf = ({ widthMm, heightMm }: Pick<CheckInput['map'], 'widthMm' | 'heightMm'>): Rings => [
  [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ],
]
