import { processCount } from '../../art/layer.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { colourRoles, layerBox, layersOf } from '../printed.ts'
import { found } from './found.ts'

/** Ways of mixing by which light colours leave what is below them: what overprinting does. */
const overprinting: readonly string[] = ['multiply', 'darken', 'darkerColor', 'colorBurn', 'linearBurn']

/** Things without ink that are set to overprint: what was meant to be white in the print shows what lies below. */
export async function vanishingWhite(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const out: CheckFinding[] = []
  for (const layer of layersOf(input, colourRoles)) {
    if (!overprinting.includes(layer.blendMode)) continue
    checkCancelled(task)
    if (!(await isPaper(input, layer))) continue
    out.push(
      found({
        severity: 'error',
        code: 'white-overprints',
        of: layer.id,
        where: `layer "${layer.name}"`,
        message: 'it has no ink and is set to overprint: it vanishes, and what lies below shows',
        fix: 'Let it knock out what lies below. White ink is a plate of its own.',
        box: layerBox(input, layer),
      }),
    )
  }
  return out
}

/** Whether a layer's colour is bare paper throughout. */
async function isPaper(
  { art, file }: CheckInput,
  layer: CheckInput['art']['layers'][number],
): Promise<boolean> {
  if (layer.fill !== null) {
    const { space, values } = layer.fill
    if (space === 'CMYK') return values.every(value => value < 0.005)
    return (space === 'RGB' || space === 'Gray') && values.every(value => value > 0.995)
  }
  const count = processCount(art.colorMode)
  if (file === null || count === 0 || !['CMYK', 'RGB', 'Grayscale'].includes(art.colorMode)) return false
  const alpha = await file.layerPlane(layer.id, -1)
  for (let channel = 0; channel < count; channel++) {
    const plane = await file.layerPlane(layer.id, channel)
    if (plane === null) return false
    const top = plane.data instanceof Uint8Array ? 255 : plane.data instanceof Uint16Array ? 65535 : 1
    for (let i = 0; i < plane.data.length; i++)
      if (plane.data[i]! < 0.995 * top && (alpha === null || alpha.data[i]! > 0)) return false
  }
  return true
}
