import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { colourRoles, layerBox, layersOf } from '../printed.ts'
import { found } from './found.ts'

/** Layers that are switched on and print nothing: beside the art, without pixels, or fully transparent. */
export function unseenObjects(input: CheckInput): readonly CheckFinding[] {
  const { art } = input
  return layersOf(input, [...colourRoles, 'white', 'varnish']).flatMap((layer): readonly CheckFinding[] => {
    const { left, right, top, bottom } = layer.box
    const fills = layer.fill !== null && right <= left
    const outside = right > left && (right <= 0 || left >= art.width || bottom <= 0 || top >= art.height)
    const empty = !fills && (right <= left || bottom <= top)
    const clear = layer.opacity === 0 || (layer.fillOpacity === 0 && layer.effects.length === 0)
    const message = outside
      ? 'it lies wholly beside the art and prints nothing'
      : empty
        ? 'nothing is painted on it'
        : clear
          ? 'it is fully transparent and prints nothing'
          : null
    if (message === null) return []
    const text = layer.kind === 'text'
    return [
      found({
        severity: text ? 'warning' : 'note',
        code: text ? 'text-without-ink' : 'object-prints-nothing',
        of: `layer ${layer.id}`,
        where: `${text ? 'text' : 'layer'} "${layer.name}"`,
        message,
        fix: 'Delete it, or bring it back into the art.',
        box: outside ? layerBox(input, layer) : null,
      }),
    ]
  })
}
