import type { WhiteRecipe } from '../../core/checks/white/recipe.ts'
import type { Host } from '../../core/host/contract.ts'
import type { Job } from '../../core/job/job.ts'
import type { Desk } from './open.ts'
import type { CheckRun, State } from './state.ts'
import { createStore, type Store } from './store.ts'
import { followProgress, isCancelled } from './work.ts'

interface Asked {
  readonly fileId: string
  readonly taskId: string
  readonly job: Record<string, unknown>
}

/** Longest side of a small picture of the art, pixels. */
const artPixels = 900

/** Pictures that the host has to work out: each is one request. */
const asks = {
  slips: (host: Host, asked: Asked) => host('slipPicture', asked),
  account: (host: Host, asked: Asked) => host('accountPicture', asked),
  white: (host: Host, asked: Asked) => host('whitePicture', { ...asked, size: artPixels }),
  flashes: (host: Host, asked: Asked) => host('flashPicture', asked),
  heat: (host: Host, asked: Asked) => host('heatPicture', asked),
  type: (host: Host, asked: Asked) => host('typePicture', asked),
} as const
export type PictureName = keyof typeof asks
type Answer<K extends PictureName> = Awaited<ReturnType<(typeof asks)[K]>>

/** A picture, or how far it is. */
export interface Made<T> {
  readonly value: T | null
  /** The job it is of; null before the first. */
  readonly of: Job | null
  readonly running: CheckRun | null
  readonly failed: string | null
}

export type Pictures = { readonly [K in PictureName]: Made<Answer<K>> } & {
  /** Kinds of what shows that are not outlined on the table, by {@link markName}. */
  readonly unmarked: readonly string[]
  /** A white that is being thought of; null: the job's own, or none yet. */
  readonly recipe: WhiteRecipe | null
}

const nothing = { value: null, of: null, running: null, failed: null }
const firstPictures: Pictures = {
  slips: nothing,
  account: nothing,
  white: nothing,
  flashes: nothing,
  heat: nothing,
  type: nothing,
  unmarked: [],
  recipe: null,
}

const stores = new WeakMap<Store<State>, Store<Pictures>>()

/** The pictures of a window: the sheet asks for them, the table shows some. */
export function picturesOf(store: Store<State>): Store<Pictures> {
  const known = stores.get(store) ?? createStore(firstPictures)
  stores.set(store, known)
  return known
}

/** Fields of a job that a map is made from, and so every picture. */
const ofMap = [
  'panel',
  'sketch',
  'carton',
  'roles',
  'aliases',
  'effects',
  'outlines',
  'nestTurnDeg',
  'madeWhite',
  'limits',
] as const satisfies readonly (keyof Job)[]
const ofInks = [
  ...ofMap,
  'whites',
  'spots',
  'board',
  'whiteInk',
  'print',
  'assets',
] as const satisfies readonly (keyof Job)[]

/** Fields that a picture depends on. */
const reads: Readonly<Record<PictureName, readonly (keyof Job)[]>> = {
  slips: ofMap,
  account: ofInks,
  flashes: ofInks,
  heat: [...ofInks, 'light'],
  type: [...ofInks, 'light', 'marked'],
  white: ['panel', 'roles', 'aliases', 'madeWhite'],
}

/** What a picture depends on besides those fields; where left out, nothing. */
const readsOf: Readonly<Partial<Record<PictureName, (job: Job) => unknown>>> = {
  heat: ({ view }) => [view.eyeDistanceMm, view.eyeAt],
  // Type is read from where the eye is, however the panel is held meanwhile.
  type: ({ view }) => [view.eyeDistanceMm, view.eyeAt],
  // The hand lamp goes all round, and so does the eye, each at its distance from the carton as it is held.
  flashes: ({ view, light: { lamps, ...light } }) => [
    view.eyeDistanceMm,
    view.pose,
    light,
    lamps.map((lamp, i) =>
      i > 0 ? lamp : { ...lamp, pose: { ...lamp.pose, azimuthDeg: 0, elevationDeg: 0 } },
    ),
  ],
}

/** Whether a picture is of another state of the job than the one on the table. */
export function isOld(name: PictureName, { of }: Made<unknown>, job: Job): boolean {
  if (of === null || of === job) return false
  const more = readsOf[name] ?? (() => null)
  return (
    of.art?.sha256 !== job.art?.sha256 ||
    reads[name].some(field => of[field] !== job[field]) ||
    JSON.stringify(more(of)) !== JSON.stringify(more(job))
  )
}

/**
 * Works a picture out of the job as it stands now; null when it was given up or failed, which the picture then says.
 * @param change what of the job is only thought of
 */
export async function makePicture<K extends PictureName>(
  { store, host }: Desk,
  name: K,
  change: Partial<Job> = {},
): Promise<Answer<K> | null> {
  const pictures = picturesOf(store)
  const { job: own, session } = store.get()
  const job = own && { ...own, ...change }
  if (job === null || session.art === null || pictures.get()[name].running !== null) return null
  const taskId = crypto.randomUUID()
  const set = (change: Partial<Made<Answer<K>>>): void =>
    pictures.set(now => ({ ...now, [name]: { ...now[name], ...change } }))
  set({ running: { taskId, done: null, what: '' }, failed: null })
  const stop = followProgress(host, taskId, ({ done, what }) => {
    if (pictures.get()[name].running?.taskId === taskId) set({ running: { taskId, done, what } })
  })
  try {
    const ask = asks[name] as (host: Host, asked: Asked) => Promise<Answer<K>>
    const value = await ask(host, { fileId: session.art.file.id, taskId, job: { ...job } })
    set({ value, of: job, running: null })
    return value
  } catch (error) {
    const failed = isCancelled(error) ? null : error instanceof Error ? error.message : String(error)
    set({ running: null, failed })
    return null
  } finally {
    stop()
  }
}

export function stopPicture({ store, host }: Desk, name: PictureName): void {
  const { running } = picturesOf(store).get()[name]
  if (running !== null) void host('cancel', { taskId: running.taskId }).catch(() => null)
}
