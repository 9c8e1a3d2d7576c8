import { useMemo } from 'react'
import {
  firstWavelength,
  illuminantSpectrum,
  type LightSource,
  lastWavelength,
} from '../../core/color/spectrum.ts'

const width = 240
const height = 56
const marks = [400, 500, 600, 700] as const
const xOf = (nm: number): number => ((nm - firstWavelength) / (lastWavelength - firstWavelength)) * width

/** Relative power over wavelength; the highest value fills the height. */
export function SpectrumPlot({ source, name }: { readonly source: LightSource; readonly name: string }) {
  const line = useMemo(() => {
    const spectrum = illuminantSpectrum(source)
    const most = spectrum.reduce((a, b) => Math.max(a, b), 0)
    const points = Array.from(spectrum, (value, i) => {
      const y = height - (value / most) * (height - 3)
      return `${xOf(firstWavelength + i).toFixed(1)} ${y.toFixed(1)}`
    })
    return `M0 ${height}L${points.join('L')}L${width} ${height}Z`
  }, [source])
  return (
    <svg
      className="spectrum"
      viewBox={`0 0 ${width} ${height + 14}`}
      role="img"
      aria-label={`Spectrum of ${name}, 380 to 780 nm`}
    >
      <path className="power" d={line} />
      {marks.map(nm => (
        <g key={nm}>
          <line x1={xOf(nm)} x2={xOf(nm)} y1={height} y2={height + 3} />
          <text x={xOf(nm)} y={height + 13}>
            {nm === 700 ? '700 nm' : nm}
          </text>
        </g>
      ))}
    </svg>
  )
}
