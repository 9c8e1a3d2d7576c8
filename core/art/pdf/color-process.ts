import { labToXyz } from '../../color/lab.ts'
import { encode } from '../../color/rgb.ts'
import { whiteD50 } from '../../color/xyz.ts'
import { clip01, clipped, tellOnce } from './color-kit.ts'
import type { ColorSource, Light, Reading } from './reading.ts'

/** How colours that name no inks of their own become amounts: of the process inks, or darkness in a mask. */
export interface Process {
  readonly inks: readonly number[]
  /** Amounts of `inks` for colours one after another, in a new array. */
  readonly cmyk: (values: Float32Array) => Float32Array
  /** 0 black .. 1 white. */
  readonly gray: (values: Float32Array) => Float32Array
  readonly source: (source: ColorSource, values: Float32Array) => Float32Array
}

export function processOf(reading: Reading): Process {
  if (reading.aim === 'luminosity') return asDarkness
  return reading.light === null ? asInks(reading) : asLack(reading, reading.light)
}

function asInks(reading: Reading): Process {
  return {
    inks: [0, 1, 2, 3],
    cmyk: clipped,
    // Black alone (ISO 32000-2, 10.4.2): grey type of four inks would never fit.
    gray: values => {
      const out = new Float32Array(4 * values.length)
      for (let i = 0; i < values.length; i++) out[4 * i + 3] = 1 - clip01(values[i]!)
      return out
    },
    source: (source, values) => reading.separator.cmyk(source, values).slice(),
  }
}

/** What colours lack of the light that they are blended in. */
function asLack(reading: Reading, light: Light): Process {
  const { separator } = reading
  const lack = (values: Float32Array) => values.map(value => 1 - clip01(value))
  const grey = light.space === 'Gray'
  return {
    inks: grey ? [0] : [0, 1, 2],
    cmyk: values => {
      const inks = clipped(values)
      if (inks.some(amount => amount > 0)) tellAnew(reading, light)
      return lack(separator.light({ space: 'CMYK' }, light, inks))
    },
    gray: values => {
      if (grey) return lack(values)
      if (values.some(value => value < 1)) tellAnew(reading, light)
      const out = new Float32Array(3 * values.length)
      for (let i = 0; i < values.length; i++) out.fill(1 - clip01(values[i]!), 3 * i, 3 * i + 3)
      return out
    },
    source: (source, values) => lack(separator.light(source, light, values)),
  }
}

function tellAnew(reading: Reading, { space }: Light): void {
  const becomes =
    space === 'RGB'
      ? 'Grey or CMYK lies in a page or group that blends in RGB: it is separated anew, and black alone becomes black of four inks.'
      : 'CMYK lies in a page or group that blends in grey: it is printed with black alone.'
  tellOnce(reading, {
    severity: 'warning',
    code: 'ink-blended-in-light',
    where: space === 'RGB' ? 'colours blended in RGB' : 'colours blended in grey',
    message: becomes,
    fix: 'Set the blending space of the document to CMYK where it was made, or flatten transparency.',
  })
}

/** Luminosity as of grey: of RGB and of CMYK by ISO 32000-2, 10.4.2 and 11.3.5.3; of Lab its Y, coded as screens do. */
const asDarkness: Process = {
  inks: [0],
  cmyk: values => {
    const out = new Float32Array(values.length / 4)
    for (let i = 0; i < out.length; i++) {
      const white = 1 - clip01(values[4 * i + 3]!)
      const light = (c: number) => (1 - clip01(values[4 * i + c]!)) * white
      out[i] = 1 - luminosity(light(0), light(1), light(2))
    }
    return out
  },
  gray: values => values.map(value => 1 - clip01(value)),
  source: ({ space }, values) => {
    const out = new Float32Array(values.length / 3)
    for (let i = 0; i < out.length; i++) {
      const [a, b, c] = [values[3 * i]!, values[3 * i + 1]!, values[3 * i + 2]!]
      out[i] =
        1 -
        (space === 'RGB'
          ? luminosity(clip01(a), clip01(b), clip01(c))
          : clip01(encode(labToXyz([a, b, c], whiteD50)[1])))
    }
    return out
  },
}

const luminosity = (red: number, green: number, blue: number): number =>
  0.3 * red + 0.59 * green + 0.11 * blue
