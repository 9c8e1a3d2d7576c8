import { adaptation } from './adapt.ts'
import { apply, type Matrix3, type Vector3 } from './matrix.ts'
import { curve, type Gamut, rgbSpaces } from './rgb.ts'
import { whiteDisplay } from './xyz.ts'

/**
 * An ICC profile of a display with the sRGB transfer curve: three colorants, one parametric curve, version 4. The same
 * every time, so that files with it are the same every time: its date is fixed and its ID is left out, as the standard allows.
 * Source: ICC.1:2022, sections 7.2 (head), 8.4.3 (tags of a three-component display), 9.2, 10.
 */
export function displayProfile(gamut: Gamut): Uint8Array<ArrayBuffer> {
  const adapt = adaptation(whiteDisplay, connectionWhite)
  const { toXyz } = rgbSpaces[gamut]
  const column = (i: 0 | 1 | 2): Uint8Array =>
    xyzTag(apply(adapt, [toXyz[i], toXyz[(i + 3) as 3], toXyz[(i + 6) as 6]]))
  const tone = curveTag()
  return assemble([
    ['desc', textTag(profileNames[gamut])],
    ['cprt', textTag('No copyright: made from published numbers. Use it freely.')],
    ['wtpt', xyzTag(connectionWhite)],
    ['chad', fixedTag('sf32', adapt)],
    ['rXYZ', column(0)],
    ['gXYZ', column(1)],
    ['bXYZ', column(2)],
    ['rTRC', tone],
    ['gTRC', tone],
    ['bTRC', tone],
  ])
}

/** What the profiles are called. */
export const profileNames: Readonly<Record<Gamut, string>> = { srgb: 'sRGB', 'display-p3': 'Display P3' }

/** White that profiles connect by. Source: ICC.1:2022, section 7.2.16. */
const connectionWhite: Vector3 = [0.9642, 1, 0.8249]

const headSize = 128

function assemble(tags: readonly (readonly [name: string, data: Uint8Array])[]): Uint8Array<ArrayBuffer> {
  const places = new Map<Uint8Array, number>()
  let end = headSize + 4 + 12 * tags.length
  // One curve serves three tags: data may be shared.
  for (const [, data] of tags)
    if (!places.has(data)) {
      places.set(data, end)
      end += data.length
    }
  const out = new Uint8Array(end)
  const view = new DataView(out.buffer)
  head(out, view)
  view.setUint32(headSize, tags.length)
  for (const [i, [name, data]] of tags.entries()) {
    const entry = headSize + 4 + 12 * i
    letters(out, entry, name)
    view.setUint32(entry + 4, places.get(data)!)
    view.setUint32(entry + 8, data.length)
    out.set(data, places.get(data)!)
  }
  return out
}

function head(out: Uint8Array, view: DataView): void {
  view.setUint32(0, out.length)
  view.setUint32(8, 0x04400000)
  letters(out, 12, 'mntr')
  letters(out, 16, 'RGB ')
  letters(out, 20, 'XYZ ')
  for (const [i, part] of [2022, 1, 1, 0, 0, 0].entries()) view.setUint16(24 + 2 * i, part)
  letters(out, 36, 'acsp')
  // Rendering intent: media-relative.
  view.setUint32(64, 1)
  for (const [i, value] of connectionWhite.entries()) view.setInt32(68 + 4 * i, fixed(value))
}

/** Text in English, padded to a whole number of four bytes, as every tag. */
function textTag(text: string): Uint8Array {
  const data = new Uint8Array(28 + 4 * Math.ceil(text.length / 2))
  const view = new DataView(data.buffer)
  letters(data, 0, 'mluc')
  view.setUint32(8, 1)
  view.setUint32(12, 12)
  letters(data, 16, 'enUS')
  view.setUint32(20, 2 * text.length)
  view.setUint32(24, 28)
  for (let i = 0; i < text.length; i++) view.setUint16(28 + 2 * i, text.charCodeAt(i))
  return data
}

const xyzTag = (xyz: Vector3): Uint8Array => fixedTag('XYZ ', xyz)

function fixedTag(type: string, values: Vector3 | Matrix3): Uint8Array {
  const data = new Uint8Array(8 + 4 * values.length)
  const view = new DataView(data.buffer)
  letters(data, 0, type)
  for (const [i, value] of values.entries()) view.setInt32(8 + 4 * i, fixed(value))
  return data
}

/** The sRGB curve as a parametric one of function type 3: (a x + b)^g from d on, c x below. Source: section 10.18. */
function curveTag(): Uint8Array {
  const { slope, offset, gamma, toe } = curve
  const scale = 1 / (1 + offset)
  const data = new Uint8Array(12 + 20)
  const view = new DataView(data.buffer)
  letters(data, 0, 'para')
  view.setUint16(8, 3)
  for (const [i, value] of [gamma, scale, offset * scale, 1 / slope, slope * toe].entries())
    view.setInt32(12 + 4 * i, fixed(value))
  return data
}

/** s15Fixed16Number. */
const fixed = (value: number): number => Math.round(value * 65536)

function letters(out: Uint8Array, at: number, text: string): void {
  for (let i = 0; i < text.length; i++) out[at + i] = text.charCodeAt(i)
}
