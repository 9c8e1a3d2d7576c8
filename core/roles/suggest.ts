import type { ArtFile } from '../art/layer.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { assignRoles, measuredRoles, type RoleRules } from './assign.ts'
import { leavesOf } from './members.ts'
import type { Amount, Assigned, RoleName, Target } from './role.ts'
import { countTones, lightnessSteps, type ToneCount } from './tones.ts'

export interface AmountSuggestion {
  readonly amount: Amount
  /** True when the pixels leave it open. */
  readonly askAmount: boolean
  readonly amountReason: string
}

/**
 * Roles as `assignRoles` gives them, with the reading of every amount settled or asked by a look at the pixels.
 * @param look takes that look; one that remembers saves a pass over the pixels
 */
export async function assignLooking(
  file: ArtFile,
  rules: RoleRules,
  task?: Task,
  look: typeof suggestAmount = suggestAmount,
): Promise<readonly Assigned[]> {
  const assigned = assignRoles(file.art, rules)
  const out: Assigned[] = []
  for (const one of assigned) {
    checkCancelled(task)
    task?.progress?.(out.length / assigned.length, 'looking at the layers')
    if (!one.askAmount) out.push(one)
    else out.push({ ...one, ...(await look(file, one.target, one.role, task)) })
  }
  task?.progress?.(1, 'looking at the layers')
  return out
}

/** How the amount of a layer, group or channel in a role is best read. Looks at its pixels. */
export async function suggestAmount(
  file: ArtFile,
  target: Target,
  role: RoleName,
  task?: Task,
): Promise<AmountSuggestion> {
  if (target.kind === 'channel') return sure({ from: 'plane' }, "the channel's own samples")
  if (!measuredRoles.has(role)) return sure({ from: 'alpha' }, 'nothing is measured from it')
  const leaves = leavesOf(file.art, target.id)
  const inner = task?.signal ? { signal: task.signal } : undefined
  return fromTones(await countTones(file, leaves, inner), role, file.art.colorMode === 'CMYK')
}

/** The rules themselves, on counted tones. `cmyk`: the file has a black ink to read. */
export function fromTones(tones: ToneCount, role: RoleName, cmyk: boolean): AmountSuggestion {
  if (tones.covered === 0) return sure({ from: 'alpha' }, 'nothing is painted on it')
  const dark: Amount = cmyk && tones.neutral > 0.98 ? { from: 'ink', ink: 'K' } : { from: 'darkness' }
  const [low, high] = range(tones)
  const flood = tones.covered > 0.995 && tones.opaque > 0.995
  const manyHues = tones.hues.filter(part => part > 0.06).length > 2
  if (tones.coloured > 0.5 && (manyHues || high - low > 4))
    return role === 'holography'
      ? sure(
          { from: 'alpha' },
          'drawn in colours: it lies where it is painted, the colours are free to mean something',
        )
      : ask({ from: 'alpha' }, 'drawn in several colours: taken as full wherever it is painted')
  if (high - low <= 1) {
    if (flood && (role === 'substrate' || role === 'holography'))
      return sure({ from: 'alpha' }, 'one even tone: it covers the whole panel')
    if (flood)
      return ask({ from: 'alpha' }, 'one even tone over the whole panel: a flood, or only a backdrop?')
    if (tones.coloured > 0.5)
      return sure({ from: 'alpha' }, 'one colour as a stand-in: the amount is how opaque it is painted')
    if (low >= lightnessSteps - 2)
      return sure({ from: 'alpha' }, 'painted white on nothing: the amount is how opaque it is painted')
    if (high <= 1 && role === 'holography')
      return sure({ from: 'alpha' }, 'painted black as a stand-in: the amount is how opaque it is painted')
    if (high <= 1) return sure(dark, 'painted black as a stand-in: black is full')
    return ask(
      role === 'holography' ? { from: 'alpha' } : dark,
      'one grey tone: a stand-in that means full, or a screen of that tone?',
    )
  }
  if (role === 'holography')
    return ask(
      { from: 'alpha' },
      'drawn in grey tones: they may be an amount, or a code for direction or pitch',
    )
  const ends = tones.lightness[0]! + tones.lightness[1]! + tones.lightness.at(-1)! + tones.lightness.at(-2)!
  if (ends > 0.97) {
    const black = tones.lightness[0]! + tones.lightness[1]!
    return black <= 0.5
      ? ask(dark, 'painted black on white: black is taken as full')
      : ask({ from: 'lightness' }, 'painted white on black: white is taken as full')
  }
  return ask(dark, 'painted in grey tones: black is taken as full, but white may be meant')
}

/** First and last lightness step that holds more than 1 % of the pixels. */
function range(tones: ToneCount): readonly [number, number] {
  const low = tones.lightness.findIndex(part => part > 0.01)
  const high = tones.lightness.findLastIndex(part => part > 0.01)
  return [low, high]
}

const sure = (amount: Amount, amountReason: string): AmountSuggestion => ({
  amount,
  askAmount: false,
  amountReason,
})
const ask = (amount: Amount, amountReason: string): AmountSuggestion => ({
  amount,
  askAmount: true,
  amountReason,
})
