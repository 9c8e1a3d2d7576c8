import type { IlluminantName } from '../../core/optics/scene.ts'
import type { Lamp, LampForm } from '../../core/reference/scene.ts'

/** What burns, in plain words, with the name that CIE 015:2018 gives its spectrum. */
export const illuminantWords: Readonly<Record<IlluminantName, string>> = {
  D65: 'Average daylight',
  D50: 'Booth daylight',
  A: 'Tungsten bulb',
  'LED-B1': 'Very warm LED',
  'LED-B2': 'Warm LED',
  'LED-B3': 'Neutral LED',
  'LED-B4': 'Cool LED',
  'LED-B5': 'Daylight LED',
  'LED-V1': 'Warm LED from violet',
  FL11: 'Three-band tube',
}

export const illuminantTitle = (name: IlluminantName): string => `${illuminantWords[name]} · ${name}`

export const lightOfLamp = (lamp: Lamp): string =>
  lamp.spectrum === null ? illuminantTitle(lamp.illuminant) : 'Spectrum of your own'

/** A strip is a rectangle at least this many times longer than wide. */
const stripShape = 6

export function formWord(form: LampForm): string {
  if (form.kind === 'disc') return 'disc'
  const [short, long] = [Math.min(form.widthMm, form.heightMm), Math.max(form.widthMm, form.heightMm)]
  return long >= stripShape * short ? 'strip' : 'rectangle'
}
