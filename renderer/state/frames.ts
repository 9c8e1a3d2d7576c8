import type { BoxMm, CheckFinding } from '../../core/checks/finding.ts'
import type { Picture } from '../../core/host/picture.ts'
import type { Job } from '../../core/job/job.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { PanelPose } from '../../core/reference/scene.ts'
import { outdated } from './checks.ts'
import type { Desk } from './open.ts'
import type { CheckRun, State } from './state.ts'
import { createStore, type Store } from './store.ts'
import { followProgress, isCancelled } from './work.ts'

/** Small pictures of the frames that the glare check found. */
export interface Frames {
  /** The job that they are of; null before the first. */
  readonly of: Job | null
  /** By {@link frameKey}. */
  readonly made: ReadonlyMap<string, Picture>
  readonly running: CheckRun | null
  readonly failed: string | null
}

/** A finding that says how the carton is held, and where to look. */
export type FrameFinding = CheckFinding & { readonly held: PanelPose; readonly box: BoxMm }

const noFrames: Frames = { of: null, made: new Map(), running: null, failed: null }

/** Pixels along a side. */
export const frameSide = 200

const stores = new WeakMap<Store<State>, Store<Frames>>()

/** The frames of a window. */
export function framesOf(store: Store<State>): Store<Frames> {
  const known = stores.get(store) ?? createStore(noFrames)
  stores.set(store, known)
  return known
}

export const isFrame = <T extends CheckFinding>(finding: T): finding is T & FrameFinding =>
  finding.check === 'glare' && finding.held !== null && finding.box !== null

/** The same for the same finding held the same way. */
export const frameKey = ({ key, held }: FrameFinding): string =>
  `${key} ${held.tiltForwardDeg} ${held.tiltSideDeg} ${held.turnDeg}`

/** What a picture depends on besides what the checks read: how bright and how white a screen shows it. */
export function screenKey({ view }: Job): string {
  const { exposureStops, anchorLux, adapt, displayWhite } = view
  return JSON.stringify([exposureStops, anchorLux, adapt, displayWhite])
}

/** Whether the pictures are of the job as it is now, however it is held. */
export const areFramesOf = ({ of }: Pick<Frames, 'of'>, job: Job): boolean =>
  of !== null && !outdated({ of }, job) && screenKey(of) === screenKey(job)

/**
 * Draws the frames that have no picture yet, one after another; those of an earlier state of the job are dropped.
 * @param zoomOf what part of the picture a finding is about
 * @param signal gives it up
 */
export async function drawFrames(
  { store, host }: Desk,
  findings: readonly FrameFinding[],
  zoomOf: (job: Job, finding: FrameFinding) => Zoom,
  signal: AbortSignal,
): Promise<void> {
  const frames = framesOf(store)
  const { job, session } = store.get()
  if (job === null || session.art === null || signal.aborted) return
  const set = (change: Partial<Frames>): void => {
    if (!signal.aborted) frames.set(now => ({ ...now, ...change }))
  }
  if (!areFramesOf(frames.get(), job)) set({ ...noFrames, of: job })
  set({ failed: null })
  const missing = findings.filter(one => !frames.get().made.has(frameKey(one)))
  for (const [i, finding] of missing.entries()) {
    const taskId = crypto.randomUUID()
    const doing = (done: number, what: string): void =>
      set({ running: { taskId, done: (i + done) / missing.length, what: what || words(i, missing.length) } })
    const give = (): void => {
      frames.set(now => (now.running?.taskId === taskId ? { ...now, running: null } : now))
      void host('cancel', { taskId }).catch(() => null)
    }
    signal.addEventListener('abort', give, { once: true })
    doing(0, '')
    const stop = followProgress(host, taskId, ({ done, what }) => {
      if (frames.get().running?.taskId === taskId) doing(done, what === 'picture' ? '' : what)
    })
    try {
      const { held } = finding
      const picture = await host('framePicture', {
        fileId: session.art.file.id,
        taskId,
        job: { ...job },
        held: { ...held },
        zoom: { ...zoomOf(job, finding) },
        width: frameSide,
        height: frameSide,
      })
      set({ made: new Map(frames.get().made).set(frameKey(finding), picture) })
    } catch (error) {
      const failed = isCancelled(error) ? null : error instanceof Error ? error.message : String(error)
      set({ failed, running: null })
      return
    } finally {
      stop()
      signal.removeEventListener('abort', give)
    }
    if (signal.aborted) return
  }
  set({ running: null })
}

const words = (i: number, count: number): string => (count === 1 ? 'picture' : `picture ${i + 1} of ${count}`)
