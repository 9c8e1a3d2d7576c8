import { type Rings, shared } from '../../base/polygons.ts'
import type { Task } from '../../base/task.ts'
import type { CheckInput } from '../input.ts'
import { kept } from '../keeper.ts'
import { dieRings } from './die-rings.ts'
import { drawnRings } from './drawn-rings.ts'
import { frameOf } from './frame.ts'
import { artRows, drawnOnMap, mapRows } from './group-rows.ts'
import type { Group } from './groups.ts'
import { type PackedRings, packedRings, ringsOf } from './packed-rings.ts'
import { joinedRings } from './traced-rings.ts'

/** Where each group prints or cuts, mm from the art's lower left corner; a group that is not there is left out. */
export type Regions = ReadonlyMap<Group, Rings>

/** What edges are read from. */
export type RegionInput = Pick<CheckInput, 'art' | 'file' | 'assigned' | 'map' | 'blank' | 'corners' | 'keep'>

/**
 * Edges of the groups: from the art's own outlines and planes where there is art, else from the map. A colour counts from a tenth
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
    packedRings(await artRings(own, group, task)),
  )
  const drawn = drawnOnMap(map, file.art, group)
  return drawn.length === 0 ? ofArt : packedRings(await joinedRings(ringsOf(ofArt), drawn, map, task))
}

/** What the art has of a group. */
function artRings(
  { file, assigned, map }: RegionInput,
  group: Exclude<Group, 'die'>,
  task: Task | undefined,
): Promise<Rings> {
  return file!.edges === undefined
    ? joinedRings([], artRows(assigned, file!, group, task), map, task)
    : drawnRings({ file: file!, assigned, map }, group, task)
}
