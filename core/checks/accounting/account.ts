import { areaOf, grown, type Rings, shared, without } from '../../base/polygons.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { Blank } from '../../carton/blank.ts'
import type { Point } from '../../carton/die.ts'
import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { boardOf, coveredOf } from './covered.ts'
import { pixelShares } from './pixel-shares.ts'
import { type PrintedClass, printedClasses } from './printed-class.ts'

/** What becomes of a place of a panel. Glue goes before flaps, and both before what is printed. */
export const accountClasses = [
  'bare',
  'tinted',
  'half-hidden',
  'hidden',
  'under-flaps',
  'under-glue',
  'without',
] as const
export type AccountClass = (typeof accountClasses)[number]

/** Cm² of each class; `without` is where there is no holography. */
export type ClassAreas = Readonly<Record<AccountClass, number>>

export interface PanelAccount {
  /** As the blank names it; `panel` for a flat one. */
  readonly panel: string
  /** Cm²: what all classes come to. */
  readonly areaCm2: number
  readonly classes: ClassAreas
  /** Cm² of all but `without`. */
  readonly holographyCm2: number
}

/** Where the holography of one position on the sheet goes, cm². */
export interface HolographyAccount {
  readonly panels: readonly PanelAccount[]
  /** Outside the cut, windows too. */
  readonly wasteCm2: number
  /** On all panels and in the waste: what is paid for. */
  readonly holographyCm2: number
  /** Bare, tinted and half hidden: what somebody sees. */
  readonly seenCm2: number
}

interface Accounted {
  readonly map: MaterialMap
  readonly classOf: PrintedClass
  readonly blank: Blank | null
  readonly corners: ReadonlyMap<string, Point>
  readonly coverGapMm: number
}

/**
 * Sums holography over the panels of a carton, pixel by pixel with the exact part of each pixel that lies on them.
 * Throws Cancelled when told to stop.
 */
export function holographyAccount(what: Accounted, task?: Task): HolographyAccount {
  const { map, blank, corners } = what
  const classify = classifier(what)
  const panels: PanelAccount[] = []
  if (blank === null) {
    const counts = counted([frameOf(map)], map, classify)
    panels.push(accountOf('panel', (map.widthMm * map.heightMm) / 100, counts, {}))
    return summed(panels, 0)
  }
  const covered = coveredOf(blank, what.coverGapMm)
  const glue = blank.die.glue.length === 0 ? [] : grown(blank.die.glue, 0)
  for (const panel of blank.panels) {
    checkCancelled(task)
    task?.progress?.(panels.length / blank.panels.length, 'counting holography')
    const board = boardOf(panel)
    const areaCm2 = areaOf(board) / 100
    const corner = corners.get(panel.name)
    if (corner === undefined) {
      panels.push(accountOf(panel.name, areaCm2, noCounts(), {}))
      continue
    }
    const glued = glue.length === 0 ? [] : shared(board, glue)
    const over = covered.get(panel.name)!
    const flaps = glued.length === 0 ? over : without(over, glued)
    const open = [glued, flaps].reduce(
      (rings, gone) => (gone.length === 0 ? rings : without(rings, gone)),
      board,
    )
    const onMap = (rings: Rings) => counted(pixelsOf(rings, corner, map), map, classify)
    panels.push(
      accountOf(panel.name, areaCm2, onMap(open), {
        'under-flaps': holographyIn(onMap(flaps)),
        'under-glue': holographyIn(onMap(glued)),
      }),
    )
  }
  return summed(panels, wasteOf(what, classify))
}

type Classify = (column: number, row: number) => number
type Counts = Float64Array
const noCounts = (): Counts => new Float64Array(printedClasses.length)

/** Index into {@link printedClasses}; -1 where there is no holography. */
function classifier({ map, classOf }: Accounted): Classify {
  const areas = new PlaneReader(map.planes.get('area'), map.width)
  return (column, row) => {
    const at = areas.at(column, row)
    return at < 0 || areas.data[at] === 0 ? -1 : classOf(column, row)
  }
}

/** Cm² of each printed class in rings of pixels. */
function counted(rings: Rings, map: MaterialMap, classify: Classify): Counts {
  const out = noCounts()
  if (rings.length === 0) return out
  const { left, top, width, height, data } = pixelShares(rings)
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      if (data[i] === 0) continue
      const kind = classify(left + x, top + y)
      if (kind >= 0) out[kind]! += data[i]!
    }
  const pixelCm2 = (map.widthMm * map.heightMm) / (100 * map.width * map.height)
  return out.map(pixels => pixels * pixelCm2)
}

const holographyIn = (counts: Counts) => counts.reduce((sum, cm2) => sum + cm2, 0)

function accountOf(
  panel: string,
  areaCm2: number,
  counts: Counts,
  gone: { readonly 'under-flaps'?: number; readonly 'under-glue'?: number },
): PanelAccount {
  const flaps = gone['under-flaps'] ?? 0
  const glue = gone['under-glue'] ?? 0
  const holographyCm2 = holographyIn(counts) + flaps + glue
  const [bare, tinted, half, hidden] = counts as unknown as readonly [number, number, number, number]
  return {
    panel,
    areaCm2,
    classes: {
      bare,
      tinted,
      'half-hidden': half,
      hidden,
      'under-flaps': flaps,
      'under-glue': glue,
      without: Math.max(0, areaCm2 - holographyCm2),
    },
    holographyCm2,
  }
}

function summed(panels: readonly PanelAccount[], wasteCm2: number): HolographyAccount {
  const sum = (of: (panel: PanelAccount) => number) => panels.reduce((total, panel) => total + of(panel), 0)
  return {
    panels,
    wasteCm2,
    holographyCm2: wasteCm2 + sum(panel => panel.holographyCm2),
    seenCm2: sum(({ classes }) => classes.bare + classes.tinted + classes['half-hidden']),
  }
}

/** Holography of the art that no panel shows, for each place where the art lies on the blank. */
function wasteOf({ map, blank, corners }: Accounted, classify: Classify): number {
  const placings = new Map([...corners.values()].map(corner => [corner.join(' '), corner]))
  let cm2 = 0
  for (const corner of placings.values()) {
    const here = blank!.panels.filter(({ name }) => corners.get(name)?.join(' ') === corner.join(' '))
    const boards = here.map(boardOf)
    const frame: Rings = [rectangle(corner, map)]
    const left = boards.reduce<Rings>((rings, board) => without(rings, board), frame)
    cm2 += holographyIn(counted(pixelsOf(left, corner, map), map, classify))
  }
  return cm2
}

const rectangle = ([x, y]: Point, { widthMm, heightMm }: MaterialMap): readonly Point[] => [
  [x, y],
  [x + widthMm, y],
  [x + widthMm, y + heightMm],
  [x, y + heightMm],
]

const frameOf = ({ width, height }: MaterialMap): readonly Point[] => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
]

/** What of rings on the blank lies on the art, in pixels of its map. @param corner of the art on the blank */
function pixelsOf(rings: Rings, corner: Point, map: MaterialMap): Rings {
  if (rings.length === 0) return rings
  const clamp = (value: number, most: number) => Math.min(most, Math.max(0, value))
  return shared(rings, [rectangle(corner, map)]).map(ring =>
    ring.map(
      ([x, y]): Point => [
        clamp(((x - corner[0]) / map.widthMm) * map.width, map.width),
        clamp((1 - (y - corner[1]) / map.heightMm) * map.height, map.height),
      ],
    ),
  )
}
