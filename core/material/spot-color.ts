import type { ArtFile, InkColor } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { asMeasured, forPictures } from '../color/profile.ts'
import { inksOf, type SpotInk } from '../optics/ink.ts'
import type { Press } from './inks.ts'
import type { Plate } from './plates.ts'
import type { MapSettings } from './settings.ts'

/** The ink of a plate as it was measured, else as the file describes it. */
export function spotInk(
  labOf: (plate: Plate) => readonly [number, number, number] | null,
  told: NonNullable<MapSettings['spots']>,
) {
  return (plate: Plate): SpotInk => {
    const found = told.find(
      ({ target }) =>
        (target.kind === plate.target.kind && target.id === plate.target.id) ||
        plate.sources.some(
          source =>
            source.kind === 'layers' &&
            target.kind === 'layer' &&
            source.layers.some(layer => layer.id === target.id),
        ),
    )
    return found
      ? { lab: found.lab ?? labOf(plate), spectrum: found.spectrum ?? null }
      : { lab: labOf(plate), spectrum: null }
  }
}

/** Full tones of the profile that no ink over its paper can have: their place is taken by the nearest greyer colour. */
export function pressFindings({ condition }: Press): readonly Finding[] {
  if (!condition) return []
  const { adjusted } = inksOf(condition.solids)
  if (adjusted.length === 0) return []
  const names = adjusted.map(p =>
    p === 0 ? 'paper' : [...'CMYK'].filter((_, bit) => (p >> bit) & 1).join('+'),
  )
  return [
    {
      severity: 'warning',
      code: 'ink-adjusted',
      where: `print profile "${condition.name}"`,
      message: `no filter over its paper has the colour of ${names.join(', ')}; on foil the nearest greyer one is shown`,
      fix: 'Check that the profile is the one of this printing.',
    },
  ]
}

/**
 * The colour of a plate's solid on white board as L*a*b* (D50): the channel's ink, or the fill of its layers, as the
 * file describes it; null when it does not.
 */
export function spotColor(file: ArtFile, press: Press) {
  return (plate: Plate): readonly [number, number, number] | null => {
    for (const source of plate.sources) {
      const inks = source.kind === 'channel' ? [source.channel.ink] : source.layers.map(layer => layer.fill)
      for (const ink of inks) {
        const lab = ink && labOf(ink, press, file.art.name)
        if (lab) return lab
      }
    }
    return null
  }
}

function labOf(ink: InkColor, press: Press, subject: string): readonly [number, number, number] | null {
  switch (ink.space) {
    case 'Lab':
      return [ink.values[0]!, ink.values[1]!, ink.values[2]!]
    case 'CMYK': {
      const transform = press.engine.transform({ icc: press.profile }, 'Lab', asMeasured, subject)
      return unpack(transform, ink.values)
    }
    case 'RGB':
      return unpack(press.engine.transform('sRGB', 'Lab', forPictures, subject), ink.values)
    case 'HSB':
      return unpack(press.engine.transform('sRGB', 'Lab', forPictures, subject), fromHsb(ink.values))
    case 'Gray':
      return unpack(press.engine.transform('sRGB', 'Lab', forPictures, subject), [
        ink.values[0]!,
        ink.values[0]!,
        ink.values[0]!,
      ])
    case 'other':
      return null
  }
}

function unpack(
  transform: ReturnType<Press['engine']['transform']>,
  values: readonly number[],
): readonly [number, number, number] {
  const [l, a, b] = transform.run(Float32Array.from(values))
  transform.close()
  return [l! * 100, a! * 255 - 128, b! * 255 - 128]
}

/** Hue, saturation and brightness, all 0..1, to red, green, blue. */
function fromHsb([h, s, v]: readonly number[]): readonly number[] {
  const part = (n: number) => {
    const k = (n + h! * 6) % 6
    return v! * (1 - s! * Math.max(0, Math.min(k, 4 - k, 1)))
  }
  return [part(5), part(3), part(1)]
}
