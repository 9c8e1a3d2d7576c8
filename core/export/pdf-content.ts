import { type Path, pathStep } from '../art/path.ts'
import { PDFName } from '../base/pdf.ts'

/** A number as page content has it: no exponent, to a hundred thousandth (10 nm where the unit is the millimetre). */
export function real(value: number): string {
  const text = value.toFixed(5).replace(/\.?0+$/, '')
  return text === '-0' ? '0' : text
}

export const reals = (...values: readonly number[]): string => values.map(real).join(' ')

/** A path in page content, in its own units. Source: ISO 32000-2, section 8.5.2. */
export function pathContent({ steps, points }: Path): string {
  const parts: string[] = []
  let at = 0
  const next = (count: number) => {
    const numbers = points.subarray(at, at + 2 * count)
    at += 2 * count
    return reals(...numbers)
  }
  for (const step of steps) {
    if (step === pathStep.move) parts.push(`${next(1)} m`)
    else if (step === pathStep.line) parts.push(`${next(1)} l`)
    else if (step === pathStep.curve) parts.push(`${next(3)} c`)
    else parts.push('h')
  }
  return parts.join(' ')
}

/** A name of any text: its bytes are UTF-8. Source: ISO 32000-2, section 7.3.5. */
export function nameOf(text: string): PDFName {
  const bytes = new TextEncoder().encode(text)
  const coded = [...bytes].map(byte =>
    (byte >= 0x30 && byte <= 0x39) || (byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a)
      ? String.fromCharCode(byte)
      : `#${byte.toString(16).toUpperCase().padStart(2, '0')}`,
  )
  return PDFName.of(coded.join(''))
}

/** Points of default user space on a millimetre. Source: ISO 32000-2, section 8.3.2.3: 1/72 inch. */
export const pointsPerMm = 72 / 25.4
