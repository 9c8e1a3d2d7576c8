import type { BoardSpec } from '../reference/scene.ts'

type Build = Pick<BoardSpec, 'build' | 'readFrom'>

/** A way in which a metallised board is made, and what lies between eye and relief. */
export interface BuildKind extends Build {
  readonly title: string
  readonly says: string
  /** Refractive index of what lies on the metal, until it was measured. */
  readonly usualIndex: number
  /** Layers from the eye down. */
  readonly layers: readonly BuildLayer[]
}

export type BuildLayer = 'film' | 'lacquer' | 'metal' | 'glue' | 'board'

/** Lacquers of acrylic or nitrocellulose, from memory. */
const lacquerIndex = 1.5
/** Oriented polyester, mean of its directions, from memory; a polypropylene film has 1.5. */
const filmIndex = 1.6

/** The builds that there are. */
export const buildKinds: readonly BuildKind[] = [
  {
    build: 'transfer',
    readFrom: 'lacquer',
    title: 'Film peeled off',
    says: 'Transfer-metallised: the film is peeled off; metal and relief lie under the lacquer.',
    usualIndex: lacquerIndex,
    layers: ['lacquer', 'metal', 'glue', 'board'],
  },
  {
    build: 'laminated',
    readFrom: 'film',
    title: 'Film on top',
    says: 'Film-laminated, metal inside: the film stays on top; the relief is seen through it, as its own negative.',
    usualIndex: filmIndex,
    layers: ['film', 'metal', 'glue', 'board'],
  },
  {
    build: 'laminated',
    readFrom: 'lacquer',
    title: 'Film below',
    says: 'Film-laminated, metal outside: the film lies below; the metal is seen under a lacquer.',
    usualIndex: lacquerIndex,
    layers: ['lacquer', 'metal', 'film', 'glue', 'board'],
  },
]

/** The build of a board; null where it says what cannot be. */
export function buildOf({ build, readFrom }: Build): BuildKind | null {
  return buildKinds.find(kind => kind.build === build && kind.readFrom === readFrom) ?? null
}

/** Another build; an index that nobody has touched goes with it. */
export function rebuilt(board: BoardSpec, kind: BuildKind): Partial<BoardSpec> {
  const untouched = board.coatIndex === (buildOf(board)?.usualIndex ?? lacquerIndex)
  return {
    build: kind.build,
    readFrom: kind.readFrom,
    ...(untouched ? { coatIndex: kind.usualIndex } : {}),
  }
}

/** How a varnish levels and spreads light: a shining one, and one with matting agent; common practice, no source. */
export const varnishKinds = [
  { name: 'gloss', title: 'Gloss', varnishRoughness: 0.02, varnishScatterMrad: 0 },
  { name: 'silk', title: 'Silk', varnishRoughness: 0.1, varnishScatterMrad: 25 },
  { name: 'matte', title: 'Matte', varnishRoughness: 0.25, varnishScatterMrad: 70 },
] as const
