import { checkCancelled, type Task } from '../base/task.ts'
import { type CheckFinding, type CheckName, checkNames } from './finding.ts'
import type { CheckInput, CheckPart } from './input.ts'
import { kept } from './keeper.ts'
import type { Waiver } from './waiver.ts'

/** A finding as it stands in a list. */
export interface ListedFinding extends CheckFinding {
  /** Whose word it is that it may stand; null where nobody waived it. */
  readonly waiver: Waiver | null
}

/** Everything that was found, worst first. */
export interface CheckList {
  /** Checks that ran; one of them without findings found nothing. */
  readonly ran: readonly CheckName[]
  readonly findings: readonly ListedFinding[]
  /** Waivers of findings that are found no longer: they may be taken out. */
  readonly unused: readonly Waiver[]
  readonly sums: CheckSums
}

export interface CheckSums {
  /** Errors that nobody waived: one of them fails the job. */
  readonly fails: number
  readonly warnings: number
  readonly notes: number
  /** Findings of any kind that somebody waived; the other sums are without them. */
  readonly waived: number
}

/**
 * Runs checks one after another, those that are worked out elsewhere beside them, and makes one list of what they find.
 * Rejects with Cancelled when told to stop.
 * @param told findings from elsewhere that belong into the list
 */
export async function runChecks(
  input: CheckInput,
  parts: readonly CheckPart[],
  waivers: readonly Waiver[],
  task?: Task,
  told: readonly CheckFinding[] = [],
): Promise<CheckList> {
  const done = parts.map(() => 0)
  const tell = (i: number, share: number, what: string): void => {
    done[i] = Math.min(1, Math.max(0, share))
    task?.progress?.(done.reduce((sum, one) => sum + one, 0) / parts.length, what)
  }
  const run = async (part: CheckPart, i: number): Promise<readonly CheckFinding[]> => {
    checkCancelled(task)
    tell(i, 0, part.name)
    const found = await kept(input, part.name, [], own =>
      part.run(own, {
        ...(task?.signal === undefined ? {} : { signal: task.signal }),
        progress: (share, what) => tell(i, share, `${part.name}, ${what}`),
      }),
    )
    done[i] = 1
    return found
  }
  const found: (readonly CheckFinding[])[] = []
  const begun = parts.flatMap((part, i) => (part.beside ? [{ i, work: run(part, i) }] : []))
  // What fails beside is heard once it is waited for; where another fails first, nobody waits.
  for (const { work } of begun) work.catch(() => null)
  for (const [i, part] of parts.entries()) if (!part.beside) found[i] = await run(part, i)
  for (const { i, work } of begun) found[i] = await work
  checkCancelled(task)
  task?.progress?.(1, 'list')
  return listed(
    [...told, ...found.flat()],
    waivers,
    parts.map(part => part.name),
  )
}

/** One list of findings, worst first, keys unique, with the waivers that hold. */
export function listed(
  found: readonly CheckFinding[],
  waivers: readonly Waiver[],
  ran: readonly CheckName[] = [],
): CheckList {
  const byKey = new Map(waivers.map(one => [one.key, one]))
  const findings = uniqueKeys(found)
    .map((finding): ListedFinding => ({ ...finding, waiver: byKey.get(finding.key) ?? null }))
    .sort(worstFirst)
  const keys = new Set(findings.map(one => one.key))
  return { ran, findings, unused: waivers.filter(one => !keys.has(one.key)), sums: sumsOf(findings) }
}

export function sumsOf(findings: readonly ListedFinding[]): CheckSums {
  const standing = findings.filter(one => one.waiver === null)
  const count = (severity: CheckFinding['severity']): number =>
    standing.filter(one => one.severity === severity).length
  return {
    fails: count('error'),
    warnings: count('warning'),
    notes: count('note'),
    waived: findings.length - standing.length,
  }
}

/** The second finding of a key gets ` (2)`: a waiver names one finding and no other. */
function uniqueKeys(found: readonly CheckFinding[]): readonly CheckFinding[] {
  const taken = new Set<string>()
  const given = new Set(found.map(one => one.key))
  return found.map(finding => {
    let { key } = finding
    for (let n = 2; taken.has(key); n++) {
      const next = `${finding.key} (${n})`
      // A key that another finding has by itself is not given away.
      if (!given.has(next)) key = next
    }
    taken.add(key)
    return key === finding.key ? finding : { ...finding, key }
  })
}

const severities = ['error', 'warning', 'note'] as const

function worstFirst(a: ListedFinding, b: ListedFinding): number {
  return (
    severities.indexOf(a.severity) - severities.indexOf(b.severity) ||
    Number(a.waiver !== null) - Number(b.waiver !== null) ||
    place(a.check) - place(b.check) ||
    beyond(b) - beyond(a)
  )
}

const place = (check: CheckName): number => checkNames.indexOf(check)

/** How far a number lies from its limit, as a ratio either way; 0 where there is none to compare. */
function beyond({ measured, limit }: CheckFinding): number {
  if (measured === null || limit === null || measured.unit !== limit.unit) return 0
  if (!(measured.value > 0) || !(limit.value > 0)) return measured.value === limit.value ? 0 : most
  return Math.min(most, Math.abs(Math.log(measured.value / limit.value)))
}

/** Beyond everything that a ratio of two numbers comes to. */
const most = 1e3
