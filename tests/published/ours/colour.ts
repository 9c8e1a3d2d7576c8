import { deltaE2000 } from '../../../core/color/deltae.ts'
import { labToXyz, xyzToLab } from '../../../core/color/lab.ts'
import { apply } from '../../../core/color/matrix.ts'
import { curve, decode, encode, type Gamut, rgbSpaces } from '../../../core/color/rgb.ts'
import {
  illuminantWhite,
  observer,
  type SpectrumName,
  sampleCount,
  spectrumToXyz,
} from '../../../core/color/spectrum.ts'
import { chromaticity, whiteD50, xyToWhite } from '../../../core/color/xyz.ts'
import { illuminantStart, illuminantStep, illuminants } from '../../../core/data/illuminants.ts'
import { observer1931 } from '../../../core/data/observer.ts'
import { ofName, ofNumbers, type Quantities } from '../row.ts'

const axes = ['x', 'y', 'z'] as const
const illuminant = (name: string): readonly number[] => {
  if (!(name in illuminants)) throw new Error(`no illuminant "${name}"`)
  return illuminants[name as SpectrumName]
}
const space = (name: string) => {
  if (!(name in rgbSpaces)) throw new Error(`no RGB space "${name}"`)
  return rgbSpaces[name as Gamut].toXyz
}

/** Ratio of illuminant A's table to its formula that is farthest from 1. */
function overFormula(): number {
  let farthest = 1
  illuminants.A.forEach((value, i) => {
    const nm = illuminantStart + illuminantStep * i
    const c2 = 1.435e7
    const planck = (100 * (560 / nm) ** 5 * Math.expm1(c2 / (2848 * 560))) / Math.expm1(c2 / (2848 * nm))
    if (Math.abs(value / planck - 1) > Math.abs(farthest - 1)) farthest = value / planck
  })
  return farthest
}

/** Observer, lamps, screens and colour difference. */
export const colour: Quantities = {
  observer: ofNumbers(nm => axes.map(axis => observer1931[axis][nm! - observer1931.start]!)),
  'observer sums': () => axes.map(axis => observer1931[axis].reduce((a, b) => a + b)),
  locus: ofNumbers(nm => {
    const line = new Float64Array(sampleCount)
    line[nm! - 380] = 1
    return chromaticity(spectrumToXyz(line))
  }),
  illuminant: ofName((name, nm) => illuminant(name)[(nm! - illuminantStart) / illuminantStep]!),
  'illuminant A over its formula': overFormula,
  'white XZ': ofName(name => {
    illuminant(name)
    const [X, , Z] = illuminantWhite(name as SpectrumName)
    return [100 * X, 100 * Z]
  }),
  'white xy': ofName(name => {
    illuminant(name)
    return chromaticity(illuminantWhite(name as SpectrumName))
  }),
  'sRGB curve': () => [curve.slope, curve.toe, curve.offset, curve.gamma],
  'sRGB code': ofNumbers(encode),
  'sRGB light': ofNumbers(decode),
  'RGB matrix': ofName(name => space(name)),
  'RGB red': ofName(name => apply(space(name), [1, 0, 0])),
  'RGB luminance': ofName(name => space(name).slice(3, 6)),
  'light of lightness': ofNumbers(L => labToXyz([L!, 0, 0], [1, 1, 1])[1]),
  lightness: ofNumbers(Y => xyzToLab([0, Y!, 0], [1, 1, 1])[0]),
  'lab under D50': ofNumbers((X, Y, Z) => xyzToLab([X! / 100, Y! / 100, Z! / 100], whiteD50)),
  'white from chromaticity': ofNumbers((x, y) => {
    const [X, , Z] = xyToWhite(x!, y!)
    return [100 * X, 100 * Z]
  }),
  'colour difference': ofNumbers((L1, a1, b1, L2, a2, b2) => deltaE2000([L1!, a1!, b1!], [L2!, a2!, b2!])),
}
// The two halves of the code must count the same nanometres.
if (observer.x.length !== sampleCount) throw new Error('observer and spectra differ in length')
