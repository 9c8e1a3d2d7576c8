import { BadInput, type Finding } from '../base/finding.ts'
import { areaOf, areaWithin } from '../base/polygons.ts'
import type { Blank } from '../carton/blank.ts'
import { idleFindings } from '../carton/idle.ts'
import { boxOf, counterClockwise } from '../carton/outline.ts'
import { artSizeFindings } from '../carton/read/size.ts'
import { isPrint } from '../reference/overlay.ts'
import { artCorners } from './carton.ts'
import type { Job } from './job.ts'
import { blankOf } from './solid.ts'

/** What a job says of its carton that cannot be, or will not look as it is meant. */
export function cartonFindings(job: CartonJob): readonly Finding[] {
  const blank = blankOf(job)
  if (job.carton === null || blank === null) return []
  if (blank instanceof BadInput)
    return [
      {
        severity: 'error',
        code: blank.code,
        where: `carton, ${blank.where}`,
        message: `${blank.problem}; the panel stays flat`,
        fix: blank.fix,
      },
    ]
  return [
    ...(isPrint(job.view.overlay) ? [] : [openedForLeaves]),
    ...artFindings(job.carton.arts, blank, job.panel),
    ...areaFindings(job, job.carton.arts, blank),
    ...goneFindings(job.carton, blank),
    ...(job.carton.form.from === 'sizes' ? idleFindings(job.carton.form) : []).map(idle => ({
      ...idle,
      where: `carton, ${idle.where}`,
    })),
  ]
}

/** What of a job its carton is judged by. */
export type CartonJob = Pick<Job, 'carton' | 'board' | 'panel' | 'view' | 'outlines' | 'effects'>

/** Drawn areas with an effect of which no panel shows anything, or not all. */
function areaFindings(
  { outlines, effects, panel }: CartonJob,
  arts: NonNullable<Job['carton']>['arts'],
  blank: Blank,
): Finding[] {
  const corners = artCorners(blank, arts, panel)
  // Each panel that has art, where it lies on the art.
  const panels = blank.panels.flatMap(({ name, outline }) => {
    const corner = corners.get(name)
    if (corner === undefined) return []
    return [counterClockwise(outline.map(([x, y]) => [x - corner[0], y - corner[1]] as const))]
  })
  if (panels.length === 0) return []
  return outlines.flatMap((outline): Finding[] => {
    if (!effects.some(({ target }) => target.kind === 'outline' && target.id === outline.id)) return []
    const whole = areaOf(outline.rings)
    if (whole === 0) return []
    const beside = 1 - areaWithin(outline.rings, panels) / whole
    const where = `area "${outline.name}"`
    if (beside > 1 - besideSlack)
      return [
        {
          severity: 'warning',
          code: 'area-off-blank',
          where,
          message: 'no panel of the carton shows it, so its effect is nowhere',
          fix: 'Move it onto a panel, or see where the art lies on the blank.',
        },
      ]
    if (beside < besideSlack) return []
    return [
      {
        severity: 'note',
        code: 'area-reaches-off-blank',
        where,
        message: `${Math.round(100 * beside)} % of it lies beside the panels of the carton`,
        fix: 'Nothing, where it is meant to bleed.',
      },
    ]
  })
}

/** Part of an area that nobody misses. */
const besideSlack = 0.005

const openedForLeaves: Finding = {
  severity: 'note',
  code: 'carton-open-for-leaves',
  where: 'carton',
  message: 'it lies open and uncut while board, white and overprint are not one print',
  fix: 'Lay the leaves down as printed, all of them, to fold it.',
}

function artFindings(
  arts: NonNullable<Job['carton']>['arts'],
  blank: Blank,
  { widthMm, heightMm }: Job['panel'],
): Finding[] {
  const found: Finding[] = []
  if (arts.length > 0 && artCorners(blank, arts, { widthMm, heightMm }).size === 0)
    found.push({
      severity: 'warning',
      code: 'art-off-blank',
      where: 'carton, place of the art',
      message: 'the art lies on no panel of the blank',
      fix: 'Move it, or choose the panel that it is for.',
    })
  const [bleedWidth, bleedHeight] = bleedSize(blank)
  // Art that lies over the whole blank is drawn by its die.
  if (arts.some(({ panel }) => panel === null)) {
    const bleed = (Math.max(bleedWidth - blank.widthMm, bleedHeight - blank.heightMm) + slack) / 2
    found.push(...artSizeFindings(blank, { widthMm, heightMm }, bleed))
  } else if (widthMm > bleedWidth + slack || heightMm > bleedHeight + slack)
    found.push({
      severity: 'warning',
      code: 'art-larger-than-die',
      where: 'carton, place of the art',
      message: `the art is ${mm(widthMm)} × ${mm(heightMm)} mm, the blank with its bleed ${mm(bleedWidth)} × ${mm(bleedHeight)} mm`,
      fix: 'Check the sizes of carton and art, and whether the art is drawn at full size.',
    })
  return found
}

/** Marks and labels beside the bleed are usual, mm. */
const slack = 20

function bleedSize({ widthMm, heightMm, die }: Blank): readonly [number, number] {
  const points = die.bleed.flat()
  if (points.length === 0) return [widthMm, heightMm]
  const [left, bottom, right, top] = boxOf(points)
  return [right - left, top - bottom]
}

/** Panels and hinges that the job names and this blank does not have: they are kept, and do nothing. */
function goneFindings({ arts, fold }: NonNullable<Job['carton']>, { panels, hinges }: Blank): Finding[] {
  const panel = arts.flatMap(art =>
    art.panel === null || panels.some(({ name }) => name === art.panel) ? [] : [art.panel],
  )
  const hinge = Object.keys(fold.own).filter(own => !hinges.some(({ name }) => name === own))
  return [
    ...panel.map(name => gone(`panel "${name}"`, 'art is placed on it', 'Place the art on another panel.')),
    ...hinge.map(name => gone(`fold "${name}"`, 'its angle is set', 'Set all folds to go with the slider.')),
  ]
}

const gone = (where: string, what: string, fix: string): Finding => ({
  severity: 'note',
  code: 'carton-part-gone',
  where,
  message: `this carton does not have it, but ${what}`,
  fix,
})

const mm = (value: number): string => String(Math.round(value * 10) / 10)
