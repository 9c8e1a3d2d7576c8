import type { Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { bleedFindings } from './bleed.ts'
import { dielineFindings } from './dieline.ts'
import { edgeFindings } from './edges.ts'
import { liveFonts } from './fonts.ts'
import { glueFindings } from './glue.ts'
import { inkTotalFindings } from './ink-total.ts'
import { keepClearFindings } from './keep-clear.ts'
import { missingWhite } from './missing-white.ts'
import { unseenObjects } from './outside.ts'
import type { Place } from './place.ts'
import { resolutionFindings } from './resolution.ts'
import { safeZoneFindings } from './safe-zone.ts'
import { separationFindings } from './separations.ts'
import { smallEffects } from './small-effects.ts'
import { stepProblems } from './steps.ts'
import { thinLines } from './thin-lines.ts'
import { tintFindings } from './tints.ts'
import { vanishingWhite } from './vanishing-white.ts'
import { xHeightFindings } from './x-height.ts'

/** What a printer would send the file back for. @param places text and codes that somebody marked */
export function preflightCheck(places: readonly Place[] = []): CheckPart {
  return {
    name: 'preflight',
    says: 'Bleed, safe zone, resolution, lines, tints, total ink, glue zones, areas to keep clear, plates, names and fonts.',
    run: (input, task) => preflight(input, places, task),
  }
}

async function preflight(
  input: CheckInput,
  places: readonly Place[],
  task?: Task,
): Promise<readonly CheckFinding[]> {
  const steps: readonly (readonly [
    what: string,
    run: (input: CheckInput) => readonly CheckFinding[] | Promise<readonly CheckFinding[]>,
  ])[] = [
    ['Dieline', input => [...dielineFindings(input, task), ...stepProblems(input)]],
    ['Bleed', input => [...bleedFindings(input), ...safeZoneFindings(input, places)]],
    ['Plates', input => [...edgeFindings(input), ...missingWhite(input), ...separationFindings(input)]],
    ['Tones', input => [...tintFindings(input), ...inkTotalFindings(input)]],
    ['Glue', input => glueFindings(input, task)],
    ['Areas to keep clear', input => keepClearFindings(input, task)],
    ['Holography', smallEffects],
    ['Objects', input => [...liveFonts(input), ...unseenObjects(input)]],
    ['Overprint', input => vanishingWhite(input, task)],
    ['Resolution', input => resolutionFindings(input, task)],
    ['Thin lines', input => thinLines(input, task)],
    ['Type', input => xHeightFindings(input, task)],
  ]
  const out: CheckFinding[] = []
  for (const [i, [what, run]] of steps.entries()) {
    task?.progress?.(i / steps.length, what)
    const keys = [JSON.stringify(places)]
    out.push(...(await kept(input, `preflight, ${what}`, keys, run)))
  }
  return out
}
