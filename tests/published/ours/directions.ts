import { cellVariance, orderBand, orderBlur, sceneBlur } from '../../../core/optics/blur.ts'
import { diffracted, leaving, pathCosine, wavelengthSeen } from '../../../core/optics/grating.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { degrees, radians, raysOf, toward } from '../../support/optics.ts'
import { ofNumbers, type Quantities } from '../row.ts'
import { root } from './search.ts'

/** Direction cosine of order m at straight incidence. */
const cosine = (pitch: number, λ: number, m: number) => diffracted(toward(0), 1, 0, pitch, λ, m)[0]
const angle = (pitch: number, λ: number, m: number) => degrees(Math.asin(cosine(pitch, λ, m)))

/** Lamp angle, degrees, at which the first order goes back to the lamp. */
const littrow = (pitch: number, λ: number) =>
  root(θ => diffracted(toward(θ), 1, 0, pitch, λ, 1)[0] - Math.sin(radians(θ)), 0, 89)

/** How fast the first order turns with its wavelength, rad/nm, under a lamp at `lamp` degrees. */
function dispersion(lamp: number, pitch: number, λ: number): number {
  const out = (nm: number) => Math.asin(diffracted(toward(lamp), 1, 0, pitch, nm, 1)[0])
  return (out(λ + 0.01) - out(λ - 0.01)) / 0.02
}

/** Lamp angle at which the first order leaves straight on. */
const straightOn = (pitch: number, λ: number) => root(θ => diffracted(toward(θ), 1, 0, pitch, λ, 1)[0], 0, 89)

const conical = (polar: number, azimuth: number, pitch: number, λ: number, m: number) => {
  const out = leaving(diffracted(toward(polar, azimuth), 1, 0, pitch, λ, m))
  if (out === null) throw new Error('the order does not leave')
  return out
}

/** Path cosine of a panel tilted by `tilt` under a lamp `lamp` degrees from the eye. */
const onTilt = (lamp: number, tilt: number) => pathCosine(toward(lamp - tilt), toward(-tilt), 1, 0)

function span(pitch: number): number {
  const tiltAt = (λ: number) => root(τ => wavelengthSeen(pitch, onTilt(30, τ), 1) - λ, -40, 15)
  return tiltAt(400) - tiltAt(700)
}

/** Full width at half height of the first order's band under a lamp of so many degrees, 30° off; nm. */
function bandWidth(lines: number, lamp: number): number {
  const scene = sceneBlur(raysOf(toward(30), toward(0), radians(lamp) / 4), defaultBoard, 1, 0)
  const blur = orderBlur(scene, cellVariance(defaultBoard), 1, 550, 0, 0)
  return 2 * Math.sqrt(2 * Math.log(2)) * orderBand(1e6 / lines, 1, 0.5, 0, blur).deviation
}

/** Where light goes, and which light is seen. Angles in degrees. */
export const directions: Quantities = {
  'angle of order': ofNumbers(angle),
  'screen distance of order': ofNumbers(
    (pitch, λ, m, away) => away! * Math.tan(radians(angle(pitch!, λ!, m!))),
  ),
  'wavelength on screen': ofNumbers((pitch, m, off, away) =>
    wavelengthSeen(pitch!, Math.sin(Math.atan(off! / away!)), m!),
  ),
  'highest order that leaves': ofNumbers((pitch, λ) => {
    let m = 0
    while (leaving(diffracted(toward(0), 1, 0, pitch!, λ!, m + 1)) !== null) m++
    return m
  }),
  'Littrow angle': ofNumbers(littrow),
  'Littrow dispersion': ofNumbers((pitch, λ) => 1000 * dispersion(littrow(pitch!, λ!), pitch!, λ!)),
  'dispersion straight on': ofNumbers((pitch, λ) => 1000 * dispersion(straightOn(pitch!, λ!), pitch!, λ!)),
  'dispersion straight on, degrees': ofNumbers((pitch, λ) =>
    degrees(dispersion(straightOn(pitch!, λ!), pitch!, λ!)),
  ),
  'lamp direction': ofNumbers((polar, azimuth) => toward(polar!, azimuth!).slice(0, 2)),
  'conical order': ofNumbers(conical),
  'conical order, degrees': ofNumbers((polar, azimuth, pitch, λ, m) => {
    const [x, y, z] = conical(polar!, azimuth!, pitch!, λ!, m!)
    return [degrees(Math.acos(z)), degrees(Math.atan2(y, x))]
  }),
  // The tangential part reaches 1 in air, the coat's index inside.
  'cut-off': ofNumbers((pitch, m, coat) => root(λ => cosine(pitch!, λ, m!) - coat!, 1, 5000)),
  'path cosine on tilt': ofNumbers(onTilt),
  'tilt span': ofNumbers(span),
  'wavelength seen': ofNumbers((lamp, eye, pitch, m) =>
    wavelengthSeen(pitch!, pathCosine(toward(lamp!), toward(eye!), 1, 0), m!),
  ),
  'lines that send': ofNumbers((lamp, λ, m) =>
    root(
      lines => wavelengthSeen(1e6 / lines, pathCosine(toward(lamp!), toward(0), 1, 0), m!) - λ!,
      100,
      5000,
    ),
  ),
  'band width': ofNumbers(lines => [0.53, 1, 2, 5, 10, 20].map(lamp => bandWidth(lines!, lamp))),
}
