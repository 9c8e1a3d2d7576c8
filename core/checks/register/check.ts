import type { Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { haloRule } from './halo.ts'
import { type PairReport, type RegisterPlace, registerReport } from './report.ts'
import { registerLimit } from './tolerance.ts'

/** Where metal or white shows once groups lie apart as far as they may. */
export const register: CheckPart = {
  name: 'register',
  says: 'where metal or white shows when holography, white, inks and die lie apart',
  run: async (input: CheckInput, task?: Task) => {
    const report = await registerReport(input, undefined, task)
    return registerFindings(report.pairs, input)
  },
}

/** A finding a place that can be noticed. */
export function registerFindings(
  reports: readonly PairReport[],
  { limits }: Pick<CheckInput, 'limits'>,
): readonly CheckFinding[] {
  const visible = registerLimit('register.visible', limits)
  const failing = registerLimit('register.failing', limits)
  const trap = registerLimit('register.trap', limits).value
  const keys = new Map<string, number>()
  return reports.flatMap(({ pair, places }) =>
    places.map((place): CheckFinding => {
      const { box, usualMm, several } = place
      const name = `register ${pair.join(' ')} ${several ? 'elsewhere' : placeName(box)}`
      const count = (keys.get(name) ?? 0) + 1
      keys.set(name, count)
      const severity = usualMm > failing.value ? 'error' : usualMm > visible.value ? 'warning' : 'note'
      return {
        check: 'register',
        key: count === 1 ? name : `${name} ${count}`,
        severity,
        code: place.worst.white > place.worst.foil ? 'white-halo' : 'foil-halo',
        where: several
          ? 'many small places'
          : `x ${whole(box.leftMm)} to ${whole(box.rightMm)} mm, y ${whole(box.bottomMm)} to ${whole(box.topMm)} mm`,
        message: messageOf(pair, place),
        fix: fixOf(pair, Math.max(trap, place.neededMm)),
        box,
        held: null,
        measured: { value: hundredth(usualMm), unit: 'mm' },
        limit: severity === 'error' ? failing : visible,
        remedy: null,
      }
    }),
  )
}

/** The same for edges that moved a little. */
const placeName = ({ leftMm, bottomMm, rightMm, topMm }: RegisterPlace['box']) =>
  [leftMm + rightMm, bottomMm + topMm].map(sum => 5 * Math.round(sum / 10)).join(' ')

const words = { holography: 'holography', white: 'white', colour: 'inks', die: 'cut' } as const

function messageOf([a, b]: PairReport['pair'], place: RegisterPlace): string {
  const { worst, usualMm, noticed, lengthMm, areaMm2: area } = place
  const shows = [
    ...(worst.foil > 0 ? [`metal up to ${mm(worst.foil)} wide`] : []),
    ...(worst.white > 0 ? [`white up to ${mm(worst.white)} wide`] : []),
  ].join(' or ')
  const size = `, ${area.toFixed(area < 10 ? 1 : 0)} mm² at once`
  return (
    `where ${words[a]} and ${words[b]} meet, ${shows} can show along ${Math.max(1, Math.round(lengthMm))} mm of edge${size}; ` +
    `19 of 20 cartons stay below ${mm(usualMm)}, and ${Math.round(100 * noticed)} % show enough to be noticed`
  )
}

/** What would hide it. @param needed overlap, mm */
export function fixOf(pair: PairReport['pair'], needed: number): string {
  const [, b] = pair
  const trap = mm(needed)
  const clear = mm(2 * needed)
  switch (haloRule(pair).mend) {
    case 'choke':
      return `Pull the white back by ${trap} under the inks, so that a slip shows neither white nor a fresh edge of metal.`
    case 'overlap':
      return `Let the white reach ${trap} over the holography, or keep the two ${clear} apart.`
    case 'clear':
      return `Keep holography and inks ${clear} apart, let one reach ${trap} over the other, or let one fade out.`
    case 'bleed':
      return `Let the ${words[b]} run on ${trap} beyond the cut.`
  }
}

const hundredth = (mm: number) => Math.round(100 * mm) / 100
const mm = (value: number) => `${value.toFixed(2)} mm`
const whole = (value: number) => value.toFixed(0)
