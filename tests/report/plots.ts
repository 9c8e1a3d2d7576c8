import { displayColor, displayTransform } from '../../core/color/display.ts'
import { illuminantSpectrum, illuminantWhite, spectrumToXyz } from '../../core/color/spectrum.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import { orderPower } from '../../core/optics/efficiency.ts'
import { blazed, rectangular, sinusoid } from '../../core/optics/groove.ts'
import { metalReflectance } from '../../core/optics/metal.ts'
import { defaultBoard } from '../../core/optics/scene.ts'
import { seen, underLamp } from '../../core/optics/stack.ts'
import { foil, sinusoid as grating, tilted } from '../support/optics.ts'
import { colorStrips, linePlot } from './svg.ts'

const white = illuminantWhite('D65')
const view = { exposureStops: 0, anchorLux: null, adapt: true, gamut: 'srgb', displayWhite: 'D65' } as const
const coat = 1.5

/** What the screen shows of a light, paper white at its usual place, as a CSS colour. */
function css(xyz: XYZ, stops = 0): string {
  const code = displayColor(
    displayTransform({ ...view, exposureStops: stops }, white, 1),
    ...xyz,
    new Float64Array(3),
  )
  return `#${[...code]
    .map(c =>
      Math.round(255 * c)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`
}

/** What the eye sees while the foil tilts under a lamp 30° from it; the flash is shown 5 stops down. */
export function tiltPlot(): string {
  const x = { label: 'tilt, degrees; lamp 30° from the eye', from: -30, to: 60, step: 10 }
  const strips = [600, 1000, 1400].map(lines => ({
    name: `${lines} lines/mm`,
    colors: Array.from({ length: 361 }, (_, i) => {
      const stack = foil({ ...grating, pitch: 1e6 / lines })
      return css(underLamp(seen(stack, tilted(-30 + i / 4), 'D65', defaultBoard)), -5)
    }),
  }))
  return colorStrips(x, strips)
}

/** Share of the light in the first order by groove depth. */
export function efficiencyPlot(): string {
  const depths = Array.from({ length: 121 }, (_, i) => 2 * i)
  const first = (groove: Parameters<typeof orderPower>[0]['groove'], λ: number) =>
    depths.map(
      grooveDepth =>
        [
          grooveDepth,
          100 *
            orderPower({ groove, pitch: 1000, grooveDepth }, 1, λ, 2 * coat, coat) *
            metalReflectance(λ, 1, coat),
        ] as const,
    )
  return linePlot(
    {
      label: 'groove depth, nm; 1000 lines/mm under lacquer, 550 nm unless named',
      from: 0,
      to: 240,
      step: 40,
    },
    { label: 'first order, %', from: 0, to: 100, step: 20 },
    [
      { name: 'sinusoid 450', color: '#3b6fd4', points: first(sinusoid, 450) },
      { name: 'sinusoid', color: '#2e9e4f', points: first(sinusoid, 550) },
      { name: 'sinusoid 650', color: '#c8372d', points: first(sinusoid, 650) },
      { name: 'rectangular', color: '#8a6d1f', points: first(rectangular(), 550) },
      { name: 'blazed', color: '#7a3fa0', points: first(blazed, 550) },
    ],
  )
}

/** The mirror order of a sinusoid by groove depth, straight in and out through the surface. */
export function orderZeroPlot(): string {
  const light = illuminantSpectrum('D65')
  const colors = Array.from({ length: 161 }, (_, depth) => {
    const relief = { groove: sinusoid, pitch: 1000, grooveDepth: depth }
    const through = light.map(
      (power, i) =>
        power *
        0.96 ** 2 *
        orderPower(relief, 0, 380 + i, 2 * coat, coat) *
        metalReflectance(380 + i, 1, coat),
    )
    return css(spectrumToXyz(through))
  })
  return colorStrips({ label: 'groove depth, nm', from: 0, to: 160, step: 20 }, [
    { name: 'order 0, D65', colors },
  ])
}
