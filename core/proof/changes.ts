import { canonicalJson } from '../base/canonical-json.ts'
import type { Job } from '../job/job.ts'
import type { RoleName } from '../roles/role.ts'
import {
  type Cost,
  type CostLine,
  fieldCosts,
  nothing,
  partCosts,
  roleCosts,
  sourceCosts,
  sumOf,
} from './cost.ts'
import { fieldWords } from './field-words.ts'
import type { ProofSource, ProofVersion } from './version.ts'

/** One thing that is not as it was. */
export interface JobChange {
  /** A field of the job, or a kind of file. */
  readonly what: keyof Job | ProofSource['kind']
  /** As in `light, lamp 1, lux: 800 to 500`. */
  readonly words: string
  readonly cost: Cost
  /** Why it costs that. */
  readonly why: string
}

/** Most single values that are told of a field. */
const mostTold = 4

/** What differs between two states of a job, field by field in the order of the table of costs; none where nothing does. */
export function jobChanges(before: Job, after: Job): readonly JobChange[] {
  return (Object.keys(fieldCosts) as (keyof Job)[]).flatMap((field): JobChange[] => {
    const leaves = differences(field, before[field], after[field])
    if (leaves.length === 0) return []
    const lines = leaves.map(leaf => lineOf(field, leaf.path))
    const roles = rolesTouched(field, before, after)
    const told = roles === null ? lines : roles.map(role => roleCosts[role])
    const costs = told.map(line => line.cost)
    const cost = costs.length === 0 ? nothing : sumOf(costs)
    const dearest = told.find(line => line.cost.master || line.cost.plates) ?? told[0]
    return [{ what: field, words: wordsOf(leaves), cost, why: dearest?.why ?? fieldCosts[field].why }]
  })
}

/**
 * Files that are not as they were, are gone, or came in.
 * @param layers roles of the layers of the art that changed, where both states of it could be read; null where not
 */
export function sourceChanges(
  before: readonly ProofSource[],
  after: readonly ProofSource[],
  layers: readonly RoleName[] | null = null,
): readonly JobChange[] {
  const all = [...before, ...after.filter(one => !before.some(other => sameFile(one, other)))]
  return all.flatMap((file): JobChange[] => {
    const then = before.find(one => sameFile(one, file))
    const now = after.find(one => sameFile(one, file))
    if (then !== undefined && now !== undefined && then.sha256 === now.sha256) return []
    const how =
      then === undefined
        ? 'is new'
        : now === undefined
          ? 'is gone'
          : now.name === then.name
            ? 'has changed'
            : `is now "${now.name}"`
    const lines =
      file.kind === 'art' && layers !== null ? layers.map(role => roleCosts[role]) : [sourceCosts[file.kind]]
    const dearest = lines.find(line => line.cost.master || line.cost.plates) ?? lines[0]
    return [
      {
        what: file.kind,
        words: `${file.kind} "${file.name}" ${how}`,
        cost: sumOf(lines.map(line => line.cost)),
        why: dearest?.why ?? 'no layer of it changed',
      },
    ]
  })
}

/** What differs between two versions: the job's fields, then the files. A file that the job names is told once. */
export function versionChanges(
  before: Pick<ProofVersion, 'job' | 'sources'>,
  after: Pick<ProofVersion, 'job' | 'sources'>,
  layers: readonly RoleName[] | null = null,
): readonly JobChange[] {
  const files = sourceChanges(before.sources, after.sources, layers)
  const artTold = files.some(one => one.what === 'art')
  return [...jobChanges(before.job, after.job).filter(one => one.what !== 'art' || !artTold), ...files]
}

/** A job has one art and one profile, whatever they are called. */
const sameFile = (a: ProofSource, b: ProofSource) =>
  a.kind === b.kind && (a.kind === 'art' || a.kind === 'profile' || a.name === b.name)

const lineOf = (field: keyof Job, path: string): CostLine =>
  partCosts.find(part => path === part.path || path.startsWith(`${part.path}.`))?.line ?? fieldCosts[field]

/** Roles that a change of parts or words gives or takes; null for other fields, whose cost is their own. */
function rolesTouched(field: keyof Job, before: Job, after: Job): readonly RoleName[] | null {
  if (field !== 'roles' && field !== 'aliases') return null
  const held = (job: Job) => new Map(job[field].map(one => [canonicalJson(one), one.role]))
  const [then, now] = [held(before), held(after)]
  const touched = [...then, ...now].filter(([key]) => then.has(key) !== now.has(key)).map(([, role]) => role)
  // What a layer was before somebody set it is what the rules had found.
  const targets = field === 'roles' ? [...before.roles, ...after.roles] : []
  const changed = new Set(
    targets.filter(one => then.has(canonicalJson(one)) !== now.has(canonicalJson(one))).map(keyOf),
  )
  const found = [...before.found, ...after.found].filter(one => changed.has(keyOf(one))).map(one => one.role)
  return [...new Set([...touched, ...found])]
}

const keyOf = ({ target }: { readonly target: { readonly kind: string; readonly id: string } }) =>
  `${target.kind} ${target.id}`

interface Leaf {
  readonly path: string
  readonly words: string
}

/** Single values that differ, by path. */
function differences(path: string, before: unknown, after: unknown): readonly Leaf[] {
  if (isPlain(before) && isPlain(after)) {
    const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])]
    return keys.flatMap(key => differences(`${path}.${key}`, before[key], after[key]))
  }
  if (Array.isArray(before) && Array.isArray(after)) {
    if (before.length === after.length)
      return before.flatMap((one, i) => differences(`${path}.${i}`, one, after[i]))
    return [{ path, words: `${fieldWords(path).words}: ${before.length} to ${after.length} entries` }]
  }
  if (before === after || textOf(before) === textOf(after)) return []
  const { words, unit } = fieldWords(path)
  return [{ path, words: `${words}: ${said(before, unit)} to ${said(after, unit)}` }]
}

const isPlain = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const textOf = (value: unknown): string => (value === undefined ? '' : canonicalJson(value))

function said(value: unknown, unit: string): string {
  if (value === undefined) return 'none'
  if (typeof value === 'number') return `${value}${unit}`
  const text = textOf(value)
  if (typeof value === 'object' && value !== null && text.length > 40)
    return Array.isArray(value) ? `${value.length} entries` : 'set'
  return text.length > 60 ? `${text.slice(0, 57)}…` : text
}

function wordsOf(leaves: readonly Leaf[]): string {
  const told = leaves.slice(0, mostTold).map(leaf => leaf.words)
  return leaves.length > mostTold
    ? `${told.join('; ')}; and ${leaves.length - mostTold} more`
    : told.join('; ')
}
