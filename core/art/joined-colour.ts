import type { Finding } from '../base/finding.ts'
import type { ColorMode } from './layer.ts'

/** Process planes of one kind of colours as those of another, 0..1 each, in the files' polarity. */
export type InLight = (planes: readonly Float32Array[]) => readonly Float32Array[]

/**
 * How colours of a drawing become those of the image below it; null where they cannot. What is assumed is told.
 * @param separate  C, M, Y, K of red, green, blue, 0..1, pixel after pixel; null where none is at hand
 */
export function lightIn(
  below: ColorMode,
  above: ColorMode,
  separate: ((light: Float32Array) => Float32Array) | null,
  findings: Finding[],
): InLight | null {
  if (below === 'Multichannel') return () => []
  if (below === above) return planes => planes
  if (above !== 'RGB') return null
  if (below === 'Grayscale' || below === 'Bitmap') return planes => [grey(planes)]
  if (below !== 'CMYK') return null
  findings.push(
    separate === null
      ? {
          severity: 'warning',
          code: 'joined-colours-guessed',
          where: 'the drawing',
          message:
            'its RGB colours are printed as what they lack of cyan, magenta and yellow, greys in black',
          fix: 'Draw in CMYK where printed colours of the drawing matter.',
        }
      : {
          severity: 'note',
          code: 'joined-colours-separated',
          where: 'the drawing',
          message: 'its RGB colours, taken for sRGB, are separated for the print condition',
          fix: 'Draw in CMYK if the inks matter.',
        },
  )
  return planes => inks(planes, separate ?? plainInks)
}

/** Luma of the components. Source: ITU-R BT.709, item 3.2. */
function grey([red, green, blue]: readonly Float32Array[]): Float32Array {
  return red!.map((r, i) => 0.2126 * r + 0.7152 * green![i]! + 0.0722 * blue![i]!)
}

function inks(
  planes: readonly Float32Array[],
  separate: (light: Float32Array) => Float32Array,
): readonly Float32Array[] {
  const [red, green, blue] = planes
  const count = red!.length
  const light = new Float32Array(3 * count)
  for (let i = 0; i < count; i++) {
    light[3 * i] = red![i]!
    light[3 * i + 1] = green![i]!
    light[3 * i + 2] = blue![i]!
  }
  const out = separate(light)
  // Planes hold 1 for no ink.
  return [0, 1, 2, 3].map(ink => Float32Array.from({ length: count }, (_, i) => 1 - out[4 * i + ink]!))
}

/** What a colour lacks of each light, greys in black alone. */
function plainInks(light: Float32Array): Float32Array {
  const out = new Float32Array((light.length / 3) * 4)
  for (let i = 0; 3 * i < light.length; i++) {
    const [red, green, blue] = [light[3 * i]!, light[3 * i + 1]!, light[3 * i + 2]!]
    if (red === green && green === blue) out[4 * i + 3] = 1 - red
    else out.set([1 - red, 1 - green, 1 - blue], 4 * i)
  }
  return out
}
