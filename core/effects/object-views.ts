import type { EffectControl, EffectKind } from './effect.ts'
import { designedLimits } from './limits.ts'
import { centerControls, ParameterReader, shapeChoice } from './parameters.ts'
import { fitted, imageRaster } from './picture.ts'
import { inTurn } from './switch.ts'
import { fewestViews, mostViews, type ViewImage } from './view-image.ts'
import { readMask, readViews, viewControls, viewDefaults } from './view-parameters.ts'

const scaleControl: EffectControl = {
  key: 'scalePercent',
  label: 'Size',
  says: '100 % fills the layer.',
  unit: 'percent',
  min: 5,
  max: 500,
  step: 5,
}

const { reading: _, ...shared } = viewDefaults

/** An object pictured from several sides. */
export const objectViews: EffectKind = {
  name: 'object-views',
  title: 'Object from views',
  says: 'An object turns as the eye moves or the carton turns: each of its pictures, taken from left to right, is seen from its own side. The layer says where; of more than sixteen pictures, evenly chosen ones are shown.',
  controls: [scaleControl, ...centerControls, ...viewControls],
  limits: designedLimits(
    0.5,
    'Each view has its part of the surface: more views, each darker. One such set to a place.',
  ),
  choices: [shapeChoice],
  defaults: { assetId: null, scalePercent: 100, offsetXMm: 0, offsetYMm: 0, ...shared },
  prepare(parameters, frame) {
    const reader = new ParameterReader(objectViews.name, parameters, objectViews.defaults)
    const assetId = readAssetId(reader, 'assetId')
    const images = pick(assetId === null ? [] : (frame.views?.(assetId) ?? []))
    const [offsetX, offsetY] = centerControls.map(control => reader.number(control)) as [number, number]
    const scale = reader.number(scaleControl) / 100
    const center = { centerXMm: frame.centerXMm + offsetX, centerYMm: frame.centerYMm + offsetY }
    const { design, warnings } = readViews(
      reader,
      { ...frame, ...center },
      Math.max(fewestViews, images.length),
    )
    const { depth, share, groove } = reader.relief()
    const spot = {
      xMm: center.centerXMm,
      yMm: center.centerYMm,
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
    }
    return {
      kind: 'views',
      groove,
      design,
      grooveDepth: depth,
      share,
      within: 'own',
      maskLayerId: readMask(reader),
      warnings: images.length === 0 ? [...warnings, noPictures(assetId)] : warnings,
      ...inTurn(images.map(image => imageRaster(image, fitted(image, spot, scale)))),
    }
  },
}

/** At most `mostViews`, evenly from first to last. */
function pick(images: readonly ViewImage[]): readonly ViewImage[] {
  if (images.length <= mostViews) return images
  return Array.from(
    { length: mostViews },
    (_, i) => images[Math.round((i * (images.length - 1)) / (mostViews - 1))]!,
  )
}

function noPictures(assetId: string | null) {
  return {
    code: 'no-pictures',
    message: assetId === null ? 'the object has no pictures' : 'the pictures of its object are not there',
    fix: assetId === null ? 'Choose a numbered row of pictures or a model.' : 'Find the files again.',
  }
}

/** What a job calls pictures from files, or null for none. */
export function readAssetId(reader: ParameterReader, key: string): string | null {
  const value = reader.get(key)
  if (value === null || (typeof value === 'string' && value !== '')) return value
  return reader.refuse(
    key,
    `expected the id of pictures or null, got ${JSON.stringify(value)}`,
    'Choose pictures.',
  )
}
