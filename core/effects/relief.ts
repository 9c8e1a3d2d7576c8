import type { EffectControl, EffectKind, GratingField } from './effect.ts'
import { gradedControls, gradedDefaults, readGraded } from './lens.ts'
import { designedLimits } from './limits.ts'
import { readAssetId } from './object-views.ts'
import { ParameterReader, reliefControls, reliefDefaults, shapeChoice } from './parameters.ts'
import { imageRaster, type PlaceMm, type Raster, smoothed } from './picture.ts'
import { designLampControl, designWavelengthControl, readLayerId, readMask } from './view-parameters.ts'

const heightControl: EffectControl = {
  key: 'heightMm',
  label: 'Height of white',
  says: 'Of white over black; below 0 white is sunk.',
  unit: 'mm',
  min: -50,
  max: 50,
  step: 0.1,
}
const smoothingControl: EffectControl = {
  key: 'smoothingMm',
  label: 'Smoothing',
  unit: 'mm',
  min: 0,
  max: 20,
  step: 0.1,
}

/** A surface that seems raised. */
export const relief: EffectKind = {
  name: 'relief',
  title: 'Relief from tones',
  says: 'Light tones seem raised and dark ones low: every place sends the light as the slope of such a surface would, so the shape seems to turn under the lamp. Blazed grooves keep light and shade apart; others light both flanks. Level places stay plain, slopes too steep for the finest pitch are flattened.',
  controls: [
    heightControl,
    smoothingControl,
    designLampControl,
    designWavelengthControl,
    ...gradedControls,
    ...reliefControls,
  ],
  limits: designedLimits(0.5, 'Fine tones become noise: smooth the picture by about a pixel of the map.'),
  choices: [shapeChoice],
  defaults: {
    heightLayerId: null,
    heightAssetId: null,
    heightMm: 2,
    smoothingMm: 0.3,
    lampElevationDeg: 60,
    wavelengthNm: 550,
    maskLayerId: null,
    ...gradedDefaults,
    ...reliefDefaults,
    shape: 'blazed',
    grooveDepthNm: 150,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(relief.name, parameters, relief.defaults)
    const height = reader.number(heightControl)
    const smoothing = reader.number(smoothingControl)
    const λ = reader.number(designWavelengthControl)
    // A facet of slope s sends the lamp to an eye straight above where (l + v)_t = −s (l + v)_z.
    const upright = 1 + Math.sin((reader.number(designLampControl) * Math.PI) / 180)
    const { finest, widest } = readGraded(reader)
    const { depth, share, groove } = reader.relief()
    const maskLayerId = readMask(reader)
    const layer = readLayerId(reader, 'heightLayerId')
    const asset = readAssetId(reader, 'heightAssetId')
    const [image] = asset === null ? [] : (frame.views?.(asset) ?? [])
    const place: PlaceMm = {
      leftMm: frame.centerXMm - frame.widthMm / 2,
      bottomMm: frame.centerYMm - frame.heightMm / 2,
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
    }
    const over = (heights: Raster): GratingField => {
      const z = smoothed(heights, smoothing)
      const stepX = z.place.widthMm / z.width
      const stepY = z.place.heightMm / z.height
      return {
        kind: 'grating',
        groove,
        readsArt: false,
        maskLayerId,
        at: (x, y, _tone, out) => {
          const slopeX = (height * (z.at(x + stepX, y) - z.at(x - stepX, y))) / (2 * stepX)
          const slopeY = (height * (z.at(x, y + stepY) - z.at(x, y - stepY))) / (2 * stepY)
          const pitch = λ / (upright * Math.hypot(slopeX, slopeY))
          out.pitch = Math.max(finest, Math.min(widest, pitch))
          out.azimuth = Math.atan2(-slopeY, -slopeX)
          out.grooveDepth = depth
          out.share = pitch > widest ? 0 : share
          return out
        },
      }
    }
    const missing = {
      code: 'no-pictures',
      message: 'the picture of its heights is not there, so its own tones are taken',
      fix: 'Find the file again.',
    }
    return {
      kind: 'pictures',
      groove,
      maskLayerId,
      wants: image ? [] : [layer === null ? { from: 'own' } : { from: 'layer', id: layer }],
      warnings: asset !== null && !image ? [missing] : [],
      open: ([picture]) => over(image ? imageRaster(image, place) : picture!.light),
    }
  },
}
