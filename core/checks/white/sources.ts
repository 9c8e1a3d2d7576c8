import { checkCancelled, type Task } from '../../base/task.ts'
import { leavesOf } from '../../roles/members.ts'
import { artCoverage } from '../art-coverage.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { layerTypeSize } from '../layer-type.ts'
import { legibilityLimits } from '../legibility/limits.ts'
import { layerShape } from '../preflight/shape.ts'
import type { WhiteSource } from './from-art.ts'

/** Which of the art a white is to follow. */
export interface WhiteWish {
  /** Ids of layers and groups that get white under them, and of those that foil shows through. */
  readonly under: readonly string[]
  readonly knockOut: readonly string[]
  /** Boxes that are white throughout: codes, blocks of small type. */
  readonly patches: readonly { readonly name: string; readonly box: BoxMm }[]
}

/** Pixels on which a white is made, and the panel, mm. */
export type WhiteSize = Pick<CheckInput['map'], 'width' | 'height' | 'widthMm' | 'heightMm'>

/**
 * Reads what a white is made of, on pixels of that size; text that is kept as text comes with its size. Ids that the art
 * does not have are passed over. Throws Cancelled when told to stop.
 */
export async function whiteSources(
  { art, file, map }: Pick<CheckInput, 'art' | 'file'> & { readonly map: WhiteSize },
  wish: WhiteWish,
  task?: Task,
): Promise<readonly WhiteSource[]> {
  const out: WhiteSource[] = []
  const xRatio = legibilityLimits['legibility.x-ratio'].usual
  if (file !== null) {
    const pixelMm = map.heightMm / art.height
    const layers = wish.under.flatMap(id => leavesOf(art, id))
    for (const [i, layer] of layers.entries()) {
      checkCancelled(task)
      task?.progress?.(i / layers.length, 'Reading art')
      const coverage = await artCoverage(file, [layer], map, task)
      const shape = layer.text === null ? null : await layerShape(file, layer, task)
      const size = shape && layerTypeSize(shape, layer.text!.value, pixelMm, xRatio, task)
      out.push({ use: 'under', name: layer.name, coverage, typePt: size?.points ?? null })
    }
    for (const id of wish.knockOut)
      for (const layer of leavesOf(art, id))
        out.push({
          use: 'knock-out',
          name: layer.name,
          coverage: await artCoverage(file, [layer], map, task),
        })
  }
  return [...out, ...wish.patches.map(({ name, box }): WhiteSource => ({ use: 'patch', name, box }))]
}
