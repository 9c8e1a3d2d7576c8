import { readFileSync } from 'node:fs'
import { type Lab, labToXyz, xyzToLab } from '../../../core/color/lab.ts'
import { asMeasured, openColorEngine } from '../../../core/color/profile.ts'
import { illuminantSpectrum, illuminantWhite } from '../../../core/color/spectrum.ts'
import { whiteD50 } from '../../../core/color/xyz.ts'
import { demichel, dotMean, inksOf } from '../../../core/optics/ink.ts'
import { inkPath, plainPrinting } from '../../../core/optics/print.ts'
import { filmOver, kubelkaMunk } from '../../../core/optics/white.ts'
import { ofName, ofNumbers, type Quantities } from '../row.ts'
import { root } from './search.ts'

const profile = new Uint8Array(
  readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
)
const engine = await openColorEngine()
const toLab = engine.transform({ icc: profile }, 'Lab', asMeasured, 'FOGRA39')

/** L*a*b* (D50, paper as it is) of inks 0..1 in the profile that ships. */
function profileColor(...cmyk: number[]): Lab {
  const [L, a, b] = toLab.run(Float32Array.from(cmyk))
  return [L! * 100, a! * 255 - 128, b! * 255 - 128]
}

/** The spectral inks on white board under D50, as an instrument sees them. */
function inkColor(...cmyk: number[]): Lab {
  const light = illuminantSpectrum('D50')
  const { board } = inksOf()
  const plates = { cmyk: cmyk as [number, number, number, number], spots: [] }
  const path = inkPath(plates, plainPrinting, 2, 'D50')
  return xyzToLab(path.scattered(light.map((v, i) => v * board[i]!)), illuminantWhite('D50'))
}

const inkNames = ['C', 'M', 'Y', 'K']

/** Tone value increase in percent from colours: cyan by X, magenta and black by Y, yellow by Z. */
function toneIncrease(ink: string, ...percents: number[]): number[] {
  const at = inkNames.indexOf(ink)
  const axis = [0, 1, 2, 1][at]
  if (axis === undefined) throw new Error(`no ink "${ink}"`)
  const light = (a: number) =>
    labToXyz(profileColor(...inkNames.map((_, i) => (i === at ? a : 0))), whiteD50)[axis]!
  const [paper, solid] = [light(0), light(1)]
  return percents.map(p => (100 * (paper - light(p / 100))) / (paper - solid) - p)
}

const halftone = (area: number, density: number, n: number) =>
  dotMean([1 - area, area], [1, 10 ** -density], n)

/** Layers, halftones and the print condition. */
export const print: Quantities = {
  'endless layer': ofNumbers(KS => kubelkaMunk(KS!, 1, 1000).R),
  'K over S': ofNumbers(R => root(KS => R! - kubelkaMunk(KS, 1, 50).R, 1e-4, 1)),
  layer: ofNumbers((K, S, X) => {
    const { R, T } = kubelkaMunk(K!, S!, X!)
    return [R, T]
  }),
  'layer sum': ofNumbers((K, S, X) => {
    const { R, T } = kubelkaMunk(K!, S!, X!)
    return R + T
  }),
  'layer over': ofNumbers((K, S, X, backing) => filmOver(kubelkaMunk(K!, S!, X!), backing!)),
  'film over': ofNumbers((R, T, backing) => filmOver({ R: R!, T: T! }, backing!)),
  'film over chart': ofNumbers((R, T) => {
    const film = { R: R!, T: T! }
    const [white, black] = [filmOver(film, 0.89), filmOver(film, 0)]
    return [white, black, (100 * black) / white]
  }),
  halftone: ofNumbers(halftone),
  'halftone density': ofNumbers((area, density, n) => -Math.log10(halftone(area!, density!, n!))),
  'halftone less areas': ofNumbers(
    (area, density) => halftone(area!, density!, 1) - (1 - area! + area! * 10 ** -density!),
  ),
  // The area that gives the tint's density, paper's taken off both.
  'tone value': ofNumbers((tint, solid, paper) =>
    root(a => -Math.log10(halftone(a, solid! - paper!, 1)) - (tint! - paper!), 0, 1),
  ),
  'mixed halftone': ofNumbers((area, R1, R2, n) => dotMean([1 - area!, area!], [R1!, R2!], n!)),
  'profile colour': ofNumbers(profileColor),
  'ink colour': ofNumbers(inkColor),
  'tone increase': ofName(toneIncrease),
  'primary area': ofNumbers((p, ...cmyk) => demichel(cmyk, new Float64Array(16))[p!]!),
}
