import { decode } from '../color/rgb.ts'
import { leastChroma, wavelengthOfHue } from './coded.ts'
import type { ArtTone, EffectChoice, EffectKind } from './effect.ts'
import { designedLimits } from './limits.ts'
import {
  azimuthControl,
  ParameterReader,
  pitchRange,
  reliefControls,
  reliefDefaults,
  shapeChoice,
} from './parameters.ts'
import { designLampControl, readMask } from './view-parameters.ts'

const byChoice: EffectChoice = {
  key: 'lightBy',
  label: 'Light and dark by',
  options: [
    { value: 'depth', label: 'Groove depth' },
    { value: 'share', label: 'Share of the area' },
  ],
}
/** Scatter of the pitch at which no colour is left. */
const paleSpread = 0.3
/** Wavelength of a place that has no hue, nm. */
const greyWavelength = 550
const degree = Math.PI / 180

/** A picture in its own colours for one light: d = λ / cos(elevation), all in one direction. */
export const flatImage: EffectKind = {
  name: 'flat-image',
  title: 'Picture in fixed colours',
  says: 'The drawing shines in its own colours under a lamp of the design elevation, seen straight on. As the carton tilts all colours shift together; turned away, it goes dark. Dark tones shine less, pale ones scatter their colour.',
  limits: designedLimits(
    0.2,
    'Violet, purple and brown are no colours of the spectrum: they come as their nearest neighbour.',
  ),
  controls: [designLampControl, { ...azimuthControl, label: 'Lamp direction' }, ...reliefControls],
  choices: [byChoice, shapeChoice],
  defaults: {
    lampElevationDeg: 60,
    azimuthDeg: 90,
    lightBy: 'depth',
    maskLayerId: null,
    ...reliefDefaults,
    grooveDepthNm: 90,
  },
  prepare(parameters) {
    const reader = new ParameterReader(flatImage.name, parameters, flatImage.defaults)
    // Lamp at this elevation, eye straight above: (l + v)_t = cos(elevation).
    const u = Math.cos(reader.number(designLampControl) * degree)
    const azimuth = reader.number(azimuthControl) * degree
    const by = reader.choice('lightBy', ['depth', 'share'])
    const { depth, share, groove } = reader.relief()
    const [finest, widest] = [violet / u, red / u]
    if (finest < pitchRange[0] || widest > pitchRange[1])
      reader.refuse(
        'lampElevationDeg',
        `its colours would need pitches of ${Math.round(finest)} to ${Math.round(widest)} nm`,
        `Change the elevation until all lie in ${pitchRange[0]}..${pitchRange[1]} nm.`,
      )
    reader.pitch('lampElevationDeg', finest, depth, 0)
    return {
      kind: 'grating',
      groove,
      readsArt: true,
      maskLayerId: readMask(reader),
      at: (_x, _y, tone, out) => {
        const λ = tone.chroma < leastChroma ? greyWavelength : wavelengthOfHue(tone.hue)
        const value = brightness(tone)
        const light = decode(value)
        out.pitch = λ / u
        out.azimuth = azimuth
        // Flat grooves send light as the square of their depth, J₁(φ/2)² ≈ (φ/4)².
        out.grooveDepth = by === 'depth' ? depth * Math.sqrt(light) : depth
        out.share = by === 'share' ? share * light : share
        out.spread = value > 0 ? paleSpread * (1 - Math.min(1, tone.chroma / value)) : 0
        out.jitter = 0
        return out
      },
    }
  },
}

/** Largest of red, green and blue of a tone, as coded, 0..1: how bright its colour is, whatever its hue. */
export function brightness({ lightness, hue, chroma }: ArtTone): number {
  const pure = (shift: number) => Math.max(0, Math.min(1, Math.abs(((6 * hue + shift) % 6) - 3) - 1))
  // Of a pure colour of this hue, by the weights of Rec. 709 as the lightness has them.
  const weight = 0.2126 * pure(0) + 0.7152 * pure(4) + 0.0722 * pure(2)
  return Math.max(0, Math.min(1, lightness + chroma * (1 - weight)))
}

const red = wavelengthOfHue(0)
const violet = wavelengthOfHue(5 / 6)
