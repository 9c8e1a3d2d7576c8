import type { Art } from '../art/layer.ts'
import { BadInput, type Finding } from '../base/finding.ts'
import { grown, type Rings, without } from '../base/polygons.ts'
import type { Blank } from '../carton/blank.ts'
import type { Die, Outline, Point } from '../carton/die.ts'
import { boxOf } from '../carton/outline.ts'
import { drawingOfArt } from '../carton/read/art-drawing.ts'
import { readDie } from '../carton/read/read-die.ts'
import { artCorners } from '../job/carton.ts'
import type { Job } from '../job/job.ts'
import { blankOf } from '../job/solid.ts'

/** Where the art is printed: its lower left corner, and what it is cut to, mm; null = all of it within the bleed. */
export interface ArtOnSheet {
  readonly at: Point
  readonly clip: Rings | null
}

/** What lies where on the sheet, mm from the lower left corner of the trim. */
export interface PlateSheet {
  readonly trim: readonly [width: number, height: number]
  /** How far print reaches past the trim: left, bottom, right, top, mm, ≥ 0. */
  readonly bleed: readonly [left: number, bottom: number, right: number, top: number]
  /** How far anything is drawn past the trim, the die's own bleed line included: marks lie beyond. The same order, mm. */
  readonly around: readonly [left: number, bottom: number, right: number, top: number]
  /** Size that the art is printed at, mm. */
  readonly art: readonly [width: number, height: number]
  readonly arts: readonly ArtOnSheet[]
  /** Lines of the die; null where there are none in vectors. */
  readonly die: Die | null
  readonly findings: readonly Finding[]
}

/**
 * The sheet of a job: the blank of its carton with the art where it lies; else the blank that the art's own vectors
 * draw; else the panel, whose edge is the trim.
 * @param bleedMm wanted past the trim
 */
export function plateSheet(
  job: Pick<Job, 'carton' | 'board' | 'panel'>,
  art: Art,
  bleedMm: number,
): PlateSheet {
  const sheet = sheetOf(job, art, bleedMm)
  const { trim, bleed, die } = sheet
  const [left, bottom, right, top] = boxOf([[0, 0], trim, ...(die?.bleed ?? []).flat()])
  const past = [-left, -bottom, right - trim[0], top - trim[1]]
  const most = (side: 0 | 1 | 2 | 3) => Math.max(bleed[side], past[side]!)
  return { ...sheet, around: [most(0), most(1), most(2), most(3)] }
}

type Laid = Omit<PlateSheet, 'around'>

function sheetOf(job: Pick<Job, 'carton' | 'board' | 'panel'>, art: Art, bleedMm: number): Laid {
  const size: Size = [job.panel.widthMm, job.panel.heightMm]
  const blank = blankOf(job)
  if (blank instanceof BadInput) {
    const flat = flatSheet(art, size, bleedMm)
    return { ...flat, findings: [cartonFault(blank), ...flat.findings] }
  }
  if (job.carton !== null && blank !== null) return cartonSheet(blank, job.carton.arts, size, bleedMm)
  return drawnSheet(job, art, size, bleedMm) ?? flatSheet(art, size, bleedMm)
}

type Size = readonly [width: number, height: number]

/** Art without a die: a page says where its trim is, all else ends there. */
function flatSheet(art: Art, size: Size, bleedMm: number, findings: readonly Finding[] = [noDie(art)]): Laid {
  const box = trimOf(art)
  if (box === null) return whole({ trim: size, die: null, at: [0, 0], size, bleedMm, findings })
  const [left, bottom, right, top] = scaledBox(box, art, size)
  return whole({
    trim: [right - left, top - bottom],
    die: null,
    at: [-left, -bottom],
    size,
    bleedMm,
    findings,
  })
}

const noDie = ({ page }: Art): Finding => ({
  severity: 'note',
  code: 'dieline-missing',
  where: 'carton',
  message: `there is no dieline in vectors: ${(page?.trim ?? null) === null ? 'the edge of the art is taken as the trim' : 'the trim of the page is the cut'}`,
  fix: 'Choose a carton, or keep the die as shape layers in the art.',
})

type Box = readonly [left: number, bottom: number, right: number, top: number]

/** What a page says that it is cut to, else all of it; null for pictures, which are as large as they are printed. */
const trimOf = ({ page }: Art): Box | null =>
  page?.trim ?? (page?.sizeMm === undefined ? null : [0, 0, ...page.sizeMm])

/** A box of the page as large as it is printed, mm. */
function scaledBox([left, bottom, right, top]: Box, { width, height, resolutionPpi }: Art, size: Size): Box {
  const perMm = (resolutionPpi ?? 72) / 25.4
  const [x, y] = [stretch(size[0], width / perMm), stretch(size[1], height / perMm)]
  return [left * x, bottom * y, right * x, top * y]
}

/** Art that holds its own die: what lies past the cut is its bleed. */
function drawnSheet(
  { board, panel }: Pick<Job, 'board' | 'panel'>,
  art: Art,
  size: Size,
  bleedMm: number,
): Laid | null {
  const drawing = drawingOfArt(art)
  if (drawing.lines.length === 0) return null
  try {
    const { die, origin, widthMm, heightMm, findings } = readDie(drawing, { caliperMm: board.caliperMm })
    if (die.lines.length === 0 || widthMm <= 0 || heightMm <= 0)
      return flatSheet(art, size, bleedMm, [dieUnread])
    const blank: Box = [...origin, origin[0] + widthMm, origin[1] + heightMm]
    const [left, bottom, right, top] = statedAround(art, blank) ?? blank
    // The art is stretched over the panel, and its die with it.
    const x = stretch(panel.widthMm, drawing.widthMm)
    const y = stretch(panel.heightMm, drawing.heightMm)
    const placed = ([px, py]: Point): Point => [(px + origin[0] - left) * x, (py + origin[1] - bottom) * y]
    return whole({
      trim: [(right - left) * x, (top - bottom) * y],
      die: {
        lines: die.lines.map(({ kind, points }) => ({ kind, points: points.map(placed) })),
        glue: die.glue.map(outline => outline.map(placed)),
        bleed: die.bleed.map(outline => outline.map(placed)),
      },
      at: [-left * x, -bottom * y],
      size,
      bleedMm,
      findings: findings
        .filter(({ severity, code }) => severity === 'error' && code !== flatCode)
        .map(({ code, where, message, fix }) => ({ severity: 'warning', code, where, message, fix })),
    })
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    const flat = flatSheet(art, size, bleedMm)
    return { ...flat, findings: [cartonFault(error), ...flat.findings] }
  }
}

/**
 * The trim that a page states around the blank of its die: it holds for sheets that are cut into several. One that is
 * all of the page is what programs write of their own, and says nothing. Null where there is none.
 */
function statedAround({ page }: Art, blank: Box): Box | null {
  if (page?.trim == null || page.sizeMm === undefined) return null
  const [left, bottom, right, top] = page.trim
  const [width, height] = page.sizeMm
  const isInside = left > sameMm && bottom > sameMm && right < width - sameMm && top < height - sameMm
  const holds =
    left < blank[0] + sameMm &&
    bottom < blank[1] + sameMm &&
    right > blank[2] - sameMm &&
    top > blank[3] - sameMm
  return isInside && holds ? page.trim : null
}

/** Sides of boxes nearer than this are one, mm: half a thick line of a die. */
const sameMm = 0.5

const dieUnread: Finding = {
  severity: 'warning',
  code: 'dieline-unread',
  where: 'carton',
  message: 'lines of the die are there, but none that closes an outline: the trim is not taken from them',
  fix: 'Name the layers or inks of the lines "cut" and "crease", or choose a carton.',
}

/** A die alone that nothing folds is no fault: art may be for one face. */
const flatCode = 'no-creases'

/** How much larger a side is printed than drawn. Sizes are said to a tenth of a millimetre, which stretches nothing. */
export const stretch = (printed: number, drawn: number): number =>
  Math.abs(printed - drawn) <= 0.05 + rounding ? 1 : printed / drawn

/** One piece of art over all of the sheet. */
function whole(of: {
  readonly trim: Size
  readonly die: Die | null
  readonly at: Point
  readonly size: Size
  readonly bleedMm: number
  readonly findings: readonly Finding[]
}): Laid {
  const { trim, die, at, size, bleedMm, findings } = of
  const past = [-at[0], -at[1], at[0] + size[0] - trim[0], at[1] + size[1] - trim[1]] as const
  const has = (side: 0 | 1 | 2 | 3) => Math.max(0, Math.min(bleedMm, past[side]))
  const short = bleedMm > 0 && Math.min(...past) < bleedMm - rounding
  return {
    trim,
    bleed: [has(0), has(1), has(2), has(3)],
    art: size,
    arts: [{ at, clip: null }],
    die,
    findings: short ? [...findings, bleedShort(Math.min(...past), bleedMm)] : findings,
  }
}

function cartonSheet(
  blank: Blank,
  places: NonNullable<Job['carton']>['arts'],
  size: Size,
  bleedMm: number,
): Laid {
  const trim: Size = [blank.widthMm, blank.heightMm]
  const corners = artCorners(blank, places, { widthMm: size[0], heightMm: size[1] })
  const byCorner = new Map<string, { readonly at: Point; readonly panels: string[] }>()
  for (const [panel, at] of corners) {
    const key = at.join(' ')
    const known = byCorner.get(key) ?? { at, panels: [] }
    known.panels.push(panel)
    byCorner.set(key, known)
  }
  const [only] = byCorner.values()
  if (only === undefined)
    return { trim, bleed: [0, 0, 0, 0], art: size, arts: [], die: blank.die, findings: [artNowhere] }
  if (byCorner.size === 1 && only.panels.length === blank.panels.length)
    return whole({ trim, die: blank.die, at: only.at, size, bleedMm, findings: [] })
  const arts = [...byCorner.values()].map(({ at, panels }) => ({ at, clip: clipOf(blank, panels, bleedMm) }))
  return { trim, bleed: reachOf(arts, trim, size, bleedMm), art: size, arts, die: blank.die, findings: [] }
}

/** Panels and their bleed, without the panels beside them. */
function clipOf({ panels }: Blank, names: readonly string[], bleedMm: number): Rings {
  const own: Outline[] = []
  const others: Outline[] = []
  for (const { name, outline } of panels) (names.includes(name) ? own : others).push(outline)
  const reach: Rings = grown(own, bleedMm)
  return others.length === 0 ? reach : without(reach, grown(others, 0))
}

/** How far what is printed lies past the trim. */
function reachOf(arts: readonly ArtOnSheet[], trim: Size, size: Size, bleedMm: number): PlateSheet['bleed'] {
  const sides = arts.map(({ at, clip }) => {
    const [left, bottom, right, top] = boxOf((clip ?? []).flat())
    return [
      Math.min(-left, -at[0]),
      Math.min(-bottom, -at[1]),
      Math.min(right, at[0] + size[0]) - trim[0],
      Math.min(top, at[1] + size[1]) - trim[1],
    ] as const
  })
  const most = (side: 0 | 1 | 2 | 3) => Math.min(bleedMm, Math.max(0, ...sides.map(one => one[side])))
  return [most(0), most(1), most(2), most(3)]
}

/** A side that ends just where the bleed does is enough, mm. */
const rounding = 1e-6

const bleedShort = (reached: number, wanted: number): Finding => ({
  severity: 'warning',
  code: 'bleed-short',
  where: 'art',
  message:
    reached <= rounding
      ? `the art ends at the trim, or before: nothing bleeds, and ${wanted} mm are wanted`
      : `the art reaches ${reached.toFixed(2)} mm past the trim, and ${wanted} mm are wanted`,
  fix: 'Draw the art on past the cut and set the finished size of the art to all of it.',
})

const artNowhere: Finding = {
  severity: 'warning',
  code: 'art-not-on-carton',
  where: 'carton',
  message: 'no panel shows the art, so nothing is printed',
  fix: 'Lay the art on a panel.',
}

const cartonFault = ({ code, subject, problem, fix }: BadInput): Finding => ({
  severity: 'warning',
  code,
  where: subject,
  message: `${problem}; the edge of the art is taken as the trim`,
  fix,
})
