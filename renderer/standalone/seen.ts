import { setFold } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt, sceneWith } from '../../core/job/scene.ts'
import type { ProofManifest } from '../../core/proof/manifest.ts'
import { wholeView, type Zoom } from '../../core/reference/camera.ts'
import type { Overlay } from '../../core/reference/overlay.ts'
import type { LampPose, PanelPose, Scene } from '../../core/reference/scene.ts'

/** What is looked at, and how it is held. */
export interface Seen {
  /** Which of the proof's lights burns. */
  readonly light: number
  /** Where the hand lamp is; null: where its light has it. */
  readonly lamp: LampPose | null
  readonly pose: PanelPose
  readonly zoom: Zoom
  readonly overlay: Overlay | undefined
  /** How far the carton is closed, 0..1; null where there is none. */
  readonly fold: number | null
  /** A lamp path, and how far along it; null: lamp and panel are where the hand has them. */
  readonly run: { readonly path: number; readonly timeS: number; readonly playing: boolean } | null
}

/** As the job was left. */
export function firstSeen({ of: { job } }: Pick<ProofManifest, 'of'>): Seen {
  return {
    light: 0,
    lamp: null,
    pose: job.view.pose,
    zoom: wholeView,
    overlay: job.view.overlay,
    fold: job.carton?.fold.amount ?? null,
    run: null,
  }
}

/** Makes the scene of what is seen. The carton is folded anew only where its fold is another. */
export function sceneMaker({
  of: { job },
  lights,
  paths,
}: Pick<ProofManifest, 'of' | 'lights' | 'paths'>): (seen: Seen) => Scene {
  const { overlay: _, ...view } = job.view
  let { carton } = job
  return ({ light: chosen, lamp, pose, overlay, fold, run }) => {
    if (carton !== null && fold !== null && carton.fold.amount !== fold)
      carton = setFold({ amount: fold })(job).carton
    const light = lights[chosen]?.light ?? job.light
    const shown: Job = { ...job, carton, light, view: overlay === undefined ? view : { ...view, overlay } }
    const path = run === null ? undefined : paths[run.path]
    return run === null || path === undefined
      ? sceneWith(shown, lamp ?? light.lamps[0].pose, pose)
      : sceneAt(shown, samplePath(path, run.timeS))
  }
}

/** Lamp and panel stay where a run has brought them, and the run is over. */
export function outOfRun(seen: Seen, { paths }: Pick<ProofManifest, 'paths'>): Seen {
  const path = seen.run === null ? undefined : paths[seen.run.path]
  if (path === undefined || seen.run === null) return seen
  const { lamp, pose } = samplePath(path, seen.run.timeS)
  return { ...seen, lamp, pose, run: null }
}
