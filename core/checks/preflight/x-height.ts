import { checkCancelled, type Task } from '../../base/task.ts'
import { signedArea } from '../../carton/outline.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { layerRings } from '../layer-rings.ts'
import { layerTypeSize, outlinedTypeSize } from '../layer-type.ts'
import { legibilityLimits } from '../legibility/limits.ts'
import { outlinePixelMm } from '../legibility/raster.ts'
import { type AppliedLimit, applied } from '../limits.ts'
import { colourRoles, layerBox, layersOf } from '../printed.ts'
import { mm, saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'
import type { PreflightLimit } from './limits.ts'
import { layerShape } from './shape.ts'

/** Area of the largest panel, cm²; of the art's own panel where nothing is folded. */
export function largestFaceCm2({ blank, map }: Pick<CheckInput, 'blank' | 'map'>): number {
  if (blank === null) return (map.widthMm * map.heightMm) / 100
  return Math.max(
    ...blank.panels.map(
      ({ outline, windows = [] }) =>
        (Math.abs(signedArea(outline)) - windows.reduce((sum, ring) => sum + Math.abs(signedArea(ring)), 0)) /
        100,
    ),
  )
}

/** The x-height that holds for mandatory text on a pack: less is enough where its largest face is small. */
export function xHeightLimit(faceCm2: number, limit: (key: PreflightLimit) => AppliedLimit): AppliedLimit {
  return limit(faceCm2 < limit('preflight.smallFace').value ? 'preflight.xHeightSmall' : 'preflight.xHeight')
}

/** Text with small letters lower than mandatory text may be. Which text is mandatory a person has to say. */
export async function xHeightFindings(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const { file, map, art } = input
  if (file === null) return []
  const limit = xHeightLimit(largestFaceCm2(input), limitOf(input))
  const pixelMm = map.heightMm / art.height
  const xRatio = applied('legibility.x-ratio', legibilityLimits['legibility.x-ratio'], input.limits).value
  const out: CheckFinding[] = []
  for (const layer of layersOf(input, colourRoles)) {
    if (layer.text === null) continue
    checkCancelled(task)
    const rings = layerRings(file, layer, task)
    const shape = rings === null ? await layerShape(file, layer, task) : null
    const size =
      rings === null
        ? shape && layerTypeSize(shape, layer.text.value, pixelMm, xRatio, task)
        : outlinedTypeSize(rings, art, map, layer.text.value, xRatio, task)
    // A pixel is as well as it can be measured; an outline is known to one of those that it is looked at by.
    const known = rings === null ? pixelMm : outlinePixelMm
    if (size === null || size.xHeightMm + known / 2 >= limit.value) continue
    out.push(
      found({
        severity: 'warning',
        code: 'x-height-small',
        of: layer.id,
        where: `text "${layer.name}"`,
        message: `its small letters are ${mm(size.xHeightMm)} high, about ${size.points.toFixed(1)} pt; mandatory text needs ${saidLimit(limit)} where this law holds`,
        fix: 'Set it larger if it is mandatory text. Which law holds, and for which text, the local rules and whoever answers for them decide.',
        box: layerBox(input, layer),
        measured: measured(size.xHeightMm, 'mm'),
        limit,
      }),
    )
  }
  return out
}
