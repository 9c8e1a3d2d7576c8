import type { CheckFinding } from '../../../../core/checks/finding.ts'
import { timesPaper } from './flash-words.ts'

/** What a frame is, its number, and the limit that it passes; null where it passes none. */
export interface FrameWords {
  readonly title: string
  readonly number: string
  readonly limit: string | null
}

/** A frame of the glare check in words. */
export function frameWords({ code, measured, limit }: CheckFinding): FrameWords {
  const value = measured?.value ?? Number.NaN
  const most = limit?.value ?? null
  switch (code) {
    case 'glare-worst':
      return {
        title: 'Worst glare',
        number: `${timesPaper(value)} white`,
        limit: most !== null && value > most ? `limit passed: ${most}` : null,
      }
    case 'dark-worst':
      return {
        title: 'Darkest',
        number: `${percent(value)} of paper white`,
        limit: most !== null && value < most ? `limit passed: ${percent(most)}` : null,
      }
    default:
      return { title: 'Most colourful', number: `mean chroma ${value.toFixed(0)}`, limit: null }
  }
}

/** Order of the frames of one subject. */
export const frameOrder: readonly string[] = ['glare-worst', 'dark-worst', 'best-view']

/** What is there is never 0 %. */
const percent = (part: number): string =>
  part > 0 && part < 0.0005
    ? 'under 0.1\u00a0%'
    : `${Number((100 * part).toFixed(part < 0.1 ? 1 : 0))}\u00a0%`
