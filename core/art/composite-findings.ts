import type { Finding } from '../base/finding.ts'
import { isBlendMode } from './blend.ts'
import { fillSamples } from './composite.ts'
import { type Art, type Layer, processCount } from './layer.ts'

/**
 * What our picture of the shown layers leaves out, layer by layer: each a real feature of the file.
 * Layers that are hidden, or lie in a hidden group, leave nothing out.
 */
export function notReproduced(art: Art): Finding[] {
  const byId = new Map(art.layers.map(layer => [layer.id, layer]))
  const shown = (layer: Layer): boolean => {
    if (!layer.visible) return false
    const parent = layer.parent === null ? undefined : byId.get(layer.parent)
    return parent === undefined || shown(parent)
  }
  return art.layers.filter(shown).flatMap(layer => layerLimits(art, layer))
}

function layerLimits(art: Art, layer: Layer): Finding[] {
  const out: Finding[] = []
  const say = (code: string, message: string, fix: string) =>
    out.push({ severity: 'warning', code, where: `layer "${layer.name}"`, message, fix })
  if (layer.kind === 'adjustment')
    say(
      'adjustment-not-reproduced',
      `the adjustment (${layer.adjustment ?? 'unknown'}) is left out of our picture`,
      'Merge the adjustment into the layers it changes, or accept the difference.',
    )
  if (layer.effects.length > 0)
    say(
      'effects-not-reproduced',
      `layer effects (${layer.effects.join(', ')}) are left out of our picture`,
      'Turn the effects into layers, or accept the difference.',
    )
  if (layer.blendMode === 'dissolve')
    say(
      'blend-mode-not-reproduced',
      'dissolve scatters pixels at random; it is shown as normal',
      'Choose another blend mode.',
    )
  else if (!isBlendMode(layer.blendMode))
    say(
      'blend-mode-not-reproduced',
      `the blend mode ${layer.blendMode} is unknown and shown as normal`,
      'Choose another blend mode.',
    )
  if (hasNoPicture(art, layer))
    say(
      'layer-without-picture',
      `the file holds no pixels for this ${layer.kind} layer and no plain ${art.colorMode} fill`,
      'Turn the layer into pixels and save again.',
    )
  return out
}

/** A layer that draws something in its own program but brings neither pixels nor a fill in the document's colours. */
function hasNoPicture(art: Art, layer: Layer): boolean {
  if (
    layer.kind === 'group' ||
    layer.kind === 'adjustment' ||
    layer.kind === 'pixel' ||
    layer.kind === 'flat'
  )
    return false
  const count = processCount(art.colorMode)
  const pixels = layer.box.right > layer.box.left && layer.channelIds.filter(id => id >= 0).length >= count
  if (pixels) return false
  return !layer.fill || fillSamples(layer.fill, art.colorMode) === null
}
