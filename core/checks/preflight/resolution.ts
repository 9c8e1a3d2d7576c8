import { checkCancelled, type Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { colourRoles, layersOf } from '../printed.ts'
import { saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'
import { isFlat } from './shape.ts'

const named = 5

/** Pixels of the art at its finished size: of pictures, and of line art that is kept as pixels. */
export async function resolutionFindings(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const { art, map, file } = input
  const limit = limitOf(input)
  const pixels = layersOf(input, colourRoles).filter(({ kind }) => kind === 'pixel' || kind === 'flat')
  if (pixels.length === 0) return []
  const ppi = Math.min((art.width / map.widthMm) * 25.4, (art.height / map.heightMm) * 25.4)
  const wanted = limit('preflight.pictureResolution')
  const least = limit('preflight.pictureLeast')
  const lines = limit('preflight.lineResolution')
  const out: CheckFinding[] = []
  // Half a pixel per inch is how sizes round.
  if (ppi < wanted.value - 0.5) {
    const fails = ppi < least.value - 0.5
    const by = fails ? least : wanted
    out.push(
      found({
        severity: fails ? 'error' : 'warning',
        code: 'resolution-low',
        where: art.name,
        message: `at its finished size the art has ${Math.round(ppi)} ppi; the limit is ${saidLimit(by)}`,
        fix: 'Take the pictures from larger originals: more pixels made of these add nothing.',
        measured: measured(ppi, 'ppi', 0),
        limit: by,
      }),
    )
  }
  if (file === null || ppi >= lines.value - 0.5) return out
  const flat: string[] = []
  for (const layer of pixels) {
    checkCancelled(task)
    if (layer.kind === 'pixel' && (await isFlat(file, layer))) flat.push(layer.name)
  }
  if (flat.length > 0)
    out.push(
      found({
        severity: 'note',
        code: 'line-art-as-pixels',
        where:
          flat
            .slice(0, named)
            .map(name => `"${name}"`)
            .join(', ') + (flat.length > named ? ` and ${flat.length - named} more` : ''),
        message: `${flat.length} ${flat.length === 1 ? 'layer of one flat colour is' : 'layers of one flat colour are'} kept as pixels at ${Math.round(ppi)} ppi: edges look soft or stepped; line art wants ${saidLimit(lines)}`,
        fix: 'Keep it as a shape, or draw it at a higher resolution.',
        measured: measured(ppi, 'ppi', 0),
        limit: lines,
      }),
    )
  return out
}
