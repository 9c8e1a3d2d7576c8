import type { Finding } from '../base/finding.ts'
import { fillSamples } from './composite.ts'
import { type Art, type ColorMode, type Layer, processCount } from './layer.ts'

/**
 * What our picture of the layers leaves out, of layers that are shown: hidden layers, and those in hidden groups,
 * leave nothing out.
 */
export function leftOut(art: Art): Finding[] {
  const byId = new Map(art.layers.map(layer => [layer.id, layer]))
  const shown = (layer: Layer): boolean => {
    if (!layer.visible) return false
    const parent = layer.parent === null ? undefined : byId.get(layer.parent)
    return parent === undefined || shown(parent)
  }
  return art.layers.filter(shown).flatMap(layer => layer.findings.filter(isLeftOut))
}

/** A layer with what the reader cannot know: whether our picture can be made of what the file holds of it. */
export function withPictureFindings(layer: Layer, mode: ColorMode): Layer {
  const told = [...layer.findings, ...labBlend(layer, mode)]
  const silent = lacksPicture(layer, mode) && !told.some(f => f.code === 'fill-not-reproduced')
  return { ...layer, findings: silent ? [...told, missingPicture(layer, mode)] : told }
}

/** A finding that says the layer's pixels are not what its program shows. */
export const isLeftOut = ({ code }: Finding): boolean =>
  code.endsWith('-not-reproduced') || code === 'blend-unknown' || code === 'channel-unknown'

/** The published blend functions speak of light and ink, not of a* and b*; in Lab only normal is sure to be right. */
function labBlend(layer: Layer, mode: ColorMode): Finding[] {
  if (mode !== 'Lab' || layer.blendMode === 'normal' || layer.blendMode === 'passThrough') return []
  return [
    {
      severity: 'warning',
      code: 'blend-not-reproduced',
      where: `layer "${layer.name}"`,
      message: `the blend mode ${layer.blendMode} of a Lab document is taken number by number, which may look different`,
      fix: 'Convert the art to CMYK, or choose normal.',
    },
  ]
}

/** A layer that draws something in its own program but brings neither pixels nor a fill in the document's colours. */
function lacksPicture(layer: Layer, mode: ColorMode): boolean {
  switch (layer.kind) {
    case 'group':
    case 'adjustment':
    case 'pixel':
    case 'flat':
      return false
    case 'text':
    case 'smartObject':
    case 'shape':
    case 'fill': {
      const pixels = layer.channelIds.filter(id => id >= 0).length >= processCount(mode)
      const filled = layer.fill !== null && fillSamples(layer.fill, mode) !== null
      return !pixels && !filled
    }
  }
}

function missingPicture(layer: Layer, mode: ColorMode): Finding {
  return {
    severity: 'warning',
    code: 'fill-not-reproduced',
    where: `layer "${layer.name}"`,
    message: `the file holds no pixels for this ${layer.kind} layer and no plain ${mode} fill`,
    fix: 'Turn the layer into pixels and save again.',
  }
}
