import type { ReadOutline } from '../../base/glyph-reader.ts'
import type { Path } from '../ink/mark.ts'
import { PathWriter } from '../ink/path.ts'

/**
 * A glyph as a path whose em is 1, y up: quadratic curves become cubic ones, and every contour is closed, as contours of
 * glyphs are. Null where there is none.
 */
export function outlineOf(parts: readonly ReadOutline[]): Path | null {
  const writer = new PathWriter()
  for (const part of parts) addPart(writer, part)
  return writer.isEmpty ? null : writer.path()
}

function addPart(writer: PathWriter, { steps, x: dx, y: dy }: ReadOutline): void {
  let penX = dx
  let penY = dy
  let open = false
  const close = (): void => {
    if (open) writer.close()
    open = false
  }
  for (let at = 0; at < steps.length; ) {
    const step = steps[at++]
    const numbers = numbersOf(step)
    if (numbers === null || at + numbers > steps.length) break
    const x = (index: number): number => steps[at + index]! + dx
    const y = (index: number): number => steps[at + index + 1]! + dy
    if (step === 0) {
      close()
      writer.move(x(0), y(0))
    } else if (step !== 4 && !open) writer.move(penX, penY)
    // A line to where the pen is already has no direction, which a pen's joins need.
    if (step === 1 && (x(0) !== penX || y(0) !== penY)) writer.line(x(0), y(0))
    else if (step === 2) writer.curve(x(0), y(0), x(2), y(2), x(4), y(4))
    else if (step === 3) {
      const third = (end: number, control: number): number => end + (2 / 3) * (control - end)
      const [cx, cy, ex, ey] = [x(0), y(0), x(2), y(2)]
      writer.curve(third(penX, cx), third(penY, cy), third(ex, cx), third(ey, cy), ex, ey)
    }
    if (step === 4) close()
    else {
      open = true
      penX = x(numbers - 2)
      penY = y(numbers - 2)
    }
    at += numbers
  }
  close()
}

/** How many numbers follow a step; null for what is no step. */
function numbersOf(step: number | undefined): number | null {
  switch (step) {
    case 0:
    case 1:
      return 2
    case 2:
      return 6
    case 3:
      return 4
    case 4:
      return 0
    default:
      return null
  }
}
