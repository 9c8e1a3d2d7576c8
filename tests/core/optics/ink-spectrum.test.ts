import { describe, expect, test } from 'vitest'
import { parseInkSpectrum } from '../../../core/optics/ink-spectrum.ts'

// Our own contract; 31 values from 400 to 700 nm are what hand instruments give (common practice, no source).
const lines = (change: (nm: number) => string) =>
  Array.from({ length: 31 }, (_, i) => `${400 + 10 * i} ${change(400 + 10 * i)}`).join('\n')

describe('the spectrum of a spot ink', () => {
  test('is read as an instrument writes it', () => {
    const read = parseInkSpectrum(
      lines(nm => (nm < 550 ? '0.04' : '0,8')),
      'Comet orange',
    )
    expect(read).toEqual({
      startNm: 400,
      stepNm: 10,
      values: Array.from({ length: 31 }, (_, i) => (400 + 10 * i < 550 ? 0.04 : 0.8)),
    })
  })

  test.each<[string, string, RegExp]>([
    ['a gap', lines(() => '0.5').replace('540 0.5\n', ''), /a gap from 530 to 550 nm/],
    ['no number', lines(nm => (nm === 600 ? 'NaN' : '0.5')), /line 21.*has no value at 600 nm/],
    ['an empty place', lines(nm => (nm === 600 ? '' : '0.5')), /has no value at 600 nm/],
    ['below nothing', lines(nm => (nm === 600 ? '-0.1' : '0.5')), /-0.1 at 600 nm/],
    ['per cent', lines(() => '55'), /reaches 55, where 1 is perfect white.*parts of 1/],
    [
      'too short',
      lines(() => '0.5')
        .split('\n')
        .slice(3)
        .join('\n'),
      /covers 430 to 700 nm/,
    ],
    ['too coarse', '400 0.1\n415 0.2\n430 0.1\n700 0.3', /a gap|smaller step/],
    ['too few', Array.from({ length: 16 }, (_, i) => `${400 + 20 * i} 0.5`).join('\n'), /has 16 values/],
    ['nothing', '', /holds no numbers/],
  ])('%s is refused in words', (_, text, words) => {
    const attempt = () => parseInkSpectrum(text, 'Comet orange')
    expect(attempt).toThrow(words)
    expect(attempt).toThrow(expect.objectContaining({ name: 'BadInput', subject: 'Comet orange' }))
  })
})
