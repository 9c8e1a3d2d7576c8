import { isPrint, type Overlay } from '../reference/overlay.ts'
import type { LampPose, PanelPose, Scene } from '../reference/scene.ts'
import type { ProofManifest } from './manifest.ts'

/** What a reader of a proof changes. */
export interface ProofView {
  /** Index into the manifest's lights. */
  readonly light: number
  /** Of the lamp in the hand; null = where the light has it. */
  readonly lamp: LampPose | null
  readonly pose: PanelPose
  readonly overlay: Overlay | undefined
}

/** What a proof shows with light, lamp, panel and leaves as its reader wants them. Leaves are looked at on the open sheet. */
export function proofScene(
  { scene, solid, lights }: Pick<ProofManifest, 'scene' | 'solid' | 'lights'>,
  { light: chosen, lamp, pose, overlay }: ProofView,
): Scene {
  const light = (lights[chosen] ?? lights[0])?.light ?? scene.light
  const [hand, ...others] = light.lamps
  const { overlay: _, ...view } = scene.view
  return {
    ...scene,
    light: lamp === null ? light : { ...light, lamps: [{ ...hand, pose: lamp }, ...others] },
    view: { ...view, pose, ...(overlay === undefined ? {} : { overlay }) },
    ...(solid !== null && isPrint(overlay) ? { solid } : {}),
  }
}
