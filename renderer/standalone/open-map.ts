import type { MapPlane, MaterialMap, PlaneData } from '../../core/material/map.ts'
import { holographyPlanes } from '../../core/material/mip.ts'
import type { ProofManifest } from '../../core/proof/manifest.ts'
import { printPlaneName } from '../../core/proof/print-plane.ts'
import { joinMap } from '../../core/proof/read.ts'
import type { Helpers } from './helpers.ts'

export interface OpenedMap {
  /** All that tables are made for; it has its print condition, and no planes yet. */
  readonly head: Promise<MaterialMap>
  /** The map and its coarser levels. */
  readonly levels: Promise<readonly MaterialMap[]>
}

/**
 * Unpacks the planes of a proof and makes the coarser levels, on all helpers at once. Both rejections name a damaged plane.
 * @param name of the file, for messages
 */
export function openMap(
  helpers: Helpers,
  proof: Pick<ProofManifest, 'map' | 'planes'>,
  textOf: (at: number) => string | null,
  name: string,
): OpenedMap {
  const planes = proof.planes.map((entry, at) => ({ entry, at }))
  // Tables need the print condition; then the longest work first.
  const first = (of: string): number => (of === printPlaneName ? 1 : 0)
  planes.sort((a, b) => first(b.entry.name) - first(a.entry.name) || samplesIn(b.entry) - samplesIn(a.entry))
  const unpacked = new Map(
    planes.map(({ entry, at }) => [entry.name, helpers.ask({ do: 'plane', entry, text: textOf(at), name })]),
  )
  const headPlanes = proof.planes.filter(entry => entry.name === printPlaneName)
  const head = all(unpacked, new Set(headPlanes.map(entry => entry.name))).then(plain =>
    joinMap({ map: proof.map, planes: headPlanes }, plain, name),
  )
  const levels = all(unpacked).then(plain => levelsOf(helpers, joinMap(proof, plain, name)))
  return { head, levels }
}

const samplesIn = ({ columns, rows, components }: ProofManifest['planes'][number]): number =>
  columns * rows * components

async function all(
  unpacked: ReadonlyMap<string, Promise<PlaneData>>,
  names: ReadonlySet<string> = new Set(unpacked.keys()),
): Promise<ReadonlyMap<string, PlaneData>> {
  const wanted = [...unpacked].filter(([name]) => names.has(name))
  return new Map(await Promise.all(wanted.map(async ([name, data]) => [name, await data] as const)))
}

/** Coats and holography are halved apart from each other. */
async function levelsOf(helpers: Helpers, map: MaterialMap): Promise<readonly MaterialMap[]> {
  const holography = new Set(holographyPlanes(map))
  const part = (has: (name: string) => boolean): MaterialMap['planes'] =>
    new Map([...map.planes].filter(([name]) => has(name)))
  const { viewSets: _, ...head } = map
  const halved = (some: MaterialMap) => helpers.ask({ do: 'levels', map: { ...some, print: null } })
  const [effects, coats] = await Promise.all([
    halved({ ...map, planes: part(name => holography.has(name)) }),
    halved({ ...head, gratings: [], planes: part(name => !holography.has(name)) }),
  ])
  return effects.map((level, at) => {
    if (at === 0) return map
    const planes = new Map<string, MapPlane>([...(coats[at]?.planes ?? []), ...level.planes])
    return { ...level, print: map.print ?? null, planes }
  })
}
