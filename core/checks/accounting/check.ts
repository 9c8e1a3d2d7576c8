import type { Task } from '../../base/task.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { type AppliedLimit, applied } from '../limits.ts'
import { type HolographyAccount, holographyAccount } from './account.ts'
import { accountingLimits } from './limits.ts'
import { printedClass } from './printed-class.ts'

/** Where the holography that is paid for goes. */
export const accounting: CheckPart = {
  name: 'accounting',
  says: 'how much of the holography is seen on each panel, and how much is hidden, covered or waste',
  run: async (input: CheckInput, task?: Task) => {
    const account = await accountOfInput(input, task)
    return account === null ? [] : accountFindings(account, input)
  },
}

/** The account of a job; null where it has no tables to judge by. */
export async function accountOfInput(input: CheckInput, task?: Task): Promise<HolographyAccount | null> {
  if (input.sets.length === 0) return null
  const { map, blank, corners, limits } = input
  // What is printed stays the same while holography is edited.
  const classOf = await kept(input, 'accounting, what is printed', [], own => {
    const part = (key: keyof typeof accountingLimits) => limitOf(key, own.limits).value / 100
    return printedClass(own.map, own.sets[0]!, {
      bare: part('accounting.bare'),
      tinted: part('accounting.tinted'),
      halfHidden: part('accounting.half-hidden'),
    })
  })
  return holographyAccount(
    {
      map,
      classOf,
      blank,
      corners,
      coverGapMm: limitOf('accounting.cover-gap', limits).value,
    },
    task,
  )
}

const limitOf = (key: keyof typeof accountingLimits, own: CheckInput['limits']): AppliedLimit =>
  applied(key, accountingLimits[key], own)

export function accountFindings(
  { panels, wasteCm2, holographyCm2 }: HolographyAccount,
  { limits, blank, corners, map }: Pick<CheckInput, 'limits' | 'blank' | 'corners' | 'map'>,
): readonly CheckFinding[] {
  const least = limitOf('accounting.least-area', limits).value
  const found: CheckFinding[] = []
  const hiddenLimit = limitOf('accounting.hidden-share', limits)
  for (const { panel, classes } of panels) {
    const printed = classes.bare + classes.tinted + classes['half-hidden'] + classes.hidden
    const share = (100 * classes.hidden) / printed
    if (printed < least || share <= hiddenLimit.value) continue
    found.push({
      ...common,
      severity: 'warning',
      code: 'holography-hidden',
      key: `accounting hidden ${panel}`,
      where: panel,
      message: `white and inks hide ${cm2(classes.hidden)} of ${cm2(printed)} of holography (${Math.round(share)} %)`,
      fix: 'Knock white and dark inks out of the holography there, or leave the holography out.',
      box: boxOf(panel, blank, corners, map),
      measured: { value: Math.round(share), unit: '%' },
      limit: hiddenLimit,
    })
  }
  if (holographyCm2 < least) return found
  const lost = (
    code: string,
    key: string,
    limit: AppliedLimit,
    area: number,
    message: (area: string, share: number) => string,
    fix: string,
  ) => {
    const share = (100 * area) / holographyCm2
    if (area < least || share <= limit.value) return
    found.push({
      ...common,
      severity: 'warning',
      code,
      key,
      where: 'the whole blank',
      message: message(cm2(area), Math.round(share)),
      fix,
      box: null,
      measured: { value: Math.round(share), unit: '%' },
      limit,
    })
  }
  lost(
    'holography-covered',
    'accounting covered',
    limitOf('accounting.covered-share', limits),
    panels.reduce((sum, { classes }) => sum + classes['under-flaps'] + classes['under-glue'], 0),
    (area, share) =>
      `${area} of holography (${share} %) lie where another leaf or glue covers them once the carton is closed`,
    'Take the holography off flaps that are tucked in or glued, but for the margin that register needs.',
  )
  lost(
    'holography-in-waste',
    'accounting waste',
    limitOf('accounting.waste-share', limits),
    wasteCm2,
    (area, share) => `${area} of holography (${share} %) lie outside the cut`,
    'Draw holography in as far as bleed and register allow, or order it by the panel.',
  )
  return found
}

const common = { check: 'accounting', held: null, remedy: null } as const

const cm2 = (area: number) => `${area.toFixed(area < 10 ? 1 : 0)} cm²`

/** Around a panel, mm on the art; null where it shows none. */
function boxOf(
  name: string,
  blank: CheckInput['blank'],
  corners: CheckInput['corners'],
  { widthMm, heightMm }: CheckInput['map'],
): BoxMm | null {
  const outline = blank?.panels.find(panel => panel.name === name)?.outline
  if (outline === undefined) return { leftMm: 0, bottomMm: 0, rightMm: widthMm, topMm: heightMm }
  const corner = corners.get(name)
  if (corner === undefined) return null
  const xs = outline.map(([x]) => Math.min(widthMm, Math.max(0, x - corner[0])))
  const ys = outline.map(([, y]) => Math.min(heightMm, Math.max(0, y - corner[1])))
  return {
    leftMm: Math.min(...xs),
    bottomMm: Math.min(...ys),
    rightMm: Math.max(...xs),
    topMm: Math.max(...ys),
  }
}
