import type { ArtFile, DrawnEdges, EdgesOf } from '../../art/layer.ts'
import { type Rings, shared, without } from '../../base/polygons.ts'
import type { Task } from '../../base/task.ts'
import type { CoverageRows } from '../../material/coverage.ts'
import type { Source } from '../../material/plates.ts'
import type { CheckInput } from '../input.ts'
import { type FinishedSize, frameOf } from './frame.ts'
import {
  layerInkRows,
  leastDensity,
  processChannels,
  processLayers,
  sourceRows,
  sourcesOf,
} from './group-rows.ts'
import type { PrintedGroup } from './groups.ts'
import { isOutlined, outlinedRows } from './outlined-rows.ts'
import { eitherOf, joinedRings } from './traced-rings.ts'

interface Drawn {
  readonly file: ArtFile
  readonly assigned: CheckInput['assigned']
  readonly map: FinishedSize
}

/** Less of a plate than this is none of it. */
const half = 0.5

/** What a drawn page has of a group: its outlines as they were drawn, over what is pictures and shadings. */
export async function drawnRings(
  { file, assigned, map }: Drawn,
  group: PrintedGroup,
  task: Task | undefined,
): Promise<Rings> {
  const { art } = file
  const sources = [
    ...sourcesOf(assigned, art, group),
    ...(group === 'colour' ? processChannels(art, assigned) : []),
  ]
  let rings: Rings = []
  const add = async (edges: DrawnEdges | null, rows: (file: ArtFile) => CoverageRows): Promise<void> => {
    rings = eitherOf(rings, await edgeRings(file, edges, rows, map, task))
  }
  for (const source of sources) {
    const of = edgesOf(source)
    const edges = of === null ? null : edgesIn(of)
    const outlined = edges === null && isOutlined(art, source) ? outlinedRows(art, [source]) : null
    if (outlined === null) await add(edges, file => sourceRows(file, source, task))
    else rings = await joinedRings(rings, [outlined], map, task)
  }
  const inks = group === 'colour' ? processLayers(art, assigned) : null
  if (inks !== null)
    // Of pixels the edge runs where half of it is; so it does here.
    await add(edgesIn({ kind: 'process', ...inks, least: leastDensity / 2 }), file =>
      layerInkRows(file, inks, task),
    )
  return rings

  function edgesIn(of: EdgesOf): DrawnEdges | null {
    return file.edges?.(of, task) ?? null
  }
}

/** Null where the amount is read from colours. */
function edgesOf(source: Source): EdgesOf | null {
  if (source.kind === 'channel') {
    const { kind, plane } = source.channel
    return kind === 'spot' ? { kind: 'plane', plane, least: half } : null
  }
  if (source.amount.from !== 'alpha' && source.amount.from !== 'plane') return null
  return { kind: 'layers', layers: new Set(source.layers.map(({ id }) => id)) }
}

/** Edges of pixels, then of what is drawn over them, finished millimetres. */
async function edgeRings(
  file: ArtFile,
  edges: DrawnEdges | null,
  rows: (file: ArtFile) => CoverageRows,
  size: FinishedSize,
  task: Task | undefined,
): Promise<Rings> {
  const { width, height, resolutionPpi } = file.art
  const below = edges === null ? file : edges.below
  let rings =
    below === null ? [] : await joinedRings([], [{ width, height, parts: [rows(below)] }], size, task)
  if (edges === null || edges.steps.length === 0) return rings
  const perMm = (resolutionPpi ?? 72) / 25.4
  const [scaleX, scaleY] = [(size.widthMm * perMm) / width, (size.heightMm * perMm) / height]
  for (const step of edges.steps) {
    const own = step.rings.map(ring => ring.map(([x, y]) => [x * scaleX, y * scaleY] as const))
    if (step.lays) rings = eitherOf(rings, own)
    else if (rings.length > 0) rings = without(rings, own)
  }
  return shared(rings, frameOf(size))
}
