import { describe, expect, test } from 'vitest'
import { assumedNumbers, measuredNote, setAssumed } from '../../../core/job/assumed.ts'
import { setEffect, setMeasured } from '../../../core/job/edit.ts'
import type { Job } from '../../../core/job/job.ts'
import { checkJob, jobText, parseJob } from '../../../core/job/parse.ts'
import { plainJob } from '../../support/job.ts'

const white = { kind: 'channel', id: 'white' } as const
const rings = { kind: 'layer', id: '7' } as const
const job: Job = {
  ...setEffect(rings, { kind: 'plain', parameters: { pitchNm: 900 } })(plainJob),
  found: [
    { target: rings, name: 'Lens rings', role: 'holography' },
    { target: { kind: 'layer', id: '8' }, name: 'Comet', role: 'holography' },
    { target: white, name: 'Opaque white', role: 'white' },
  ],
  whites: [
    {
      target: white,
      opacity: { from: 'contrast', value: 0.6 },
      hits: 2,
      mottle: 0,
      screen: 'dots',
      toneGain: 0,
    },
  ],
}
const numbers = assumedNumbers(job)

describe('assumed numbers', () => {
  test('have keys of their own, words, a source and a way to measure', () => {
    expect(new Set(numbers.map(one => one.key)).size).toBe(numbers.length)
    for (const one of numbers)
      for (const word of [one.name, one.says, one.source, one.measure]) expect(word, one.key).not.toBe('')
  })

  test('cover relief, board, white, print, light and eye', () => {
    const keys = numbers.map(one => one.key)
    for (const key of [
      'effect.layer.7.grooveDepthNm',
      'effect.layer.7.shape',
      'effect.rest.grooveDepthNm',
      ...['wavinessMrad', 'glossRoughness', 'coatIndex', 'varnishRoughness', 'varnishScatterMrad'].map(
        one => `board.${one}`,
      ),
      ...['microRoughnessNm', 'hazeSpread', 'caliperMm', 'cellUm.0', 'cellUm.1', 'tint', 'build'].map(
        one => `board.${one}`,
      ),
      'whiteInk.forwardness',
      'whiteInk.absorption',
      ...['opacity', 'hits', 'mottle', 'toneGain'].map(one => `white.channel.white.${one}`),
      ...[0, 1, 2, 3].map(ink => `print.toneGain.${ink}`),
      'print.profile',
      'print.inkSpectra',
      'light.0.lux',
      'light.0.spectrum',
      'light.roomLevel',
      'view.eyeDistanceMm',
      'view.pupil',
    ])
      expect(keys).toContain(key)
  })

  test('usual values lie in what is plausible, and what is plausible in what the field takes', () => {
    for (const { key, usual, range, field } of numbers) {
      if (range !== null && typeof usual === 'number') {
        expect(usual, key).toBeGreaterThanOrEqual(range[0])
        expect(usual, key).toBeLessThanOrEqual(range[1])
      }
      if (field === null || range === null) continue
      expect(range[0], key).toBeGreaterThanOrEqual(field.min)
      expect(range[1], key).toBeLessThanOrEqual(field.max)
    }
  })

  test.each(numbers.filter(one => one.field !== null).map(one => [one.key, one] as const))(
    '%s is set, reads back and leaves a job that can be saved',
    (key, number) => {
      const [low, high] = number.range!
      const value = number.value === high ? low : high
      const changed = setAssumed(number, value)(job)
      expect(assumedNumbers(changed).find(one => one.key === key)!.value).toBeCloseTo(value, 9)
      expect(checkJob(JSON.parse(jobText(changed)), 'a job')).toEqual(parseJob(jobText(changed), 'a job'))
      // Nothing else moved.
      const others = (list: typeof numbers) =>
        list.filter(one => one.key !== key).map(one => [one.key, one.value])
      expect(others(assumedNumbers(changed))).toEqual(others(numbers))
    },
  )

  test('refuse what the field does not take', () => {
    const waviness = numbers.find(one => one.key === 'board.wavinessMrad')!
    expect(() => setAssumed(waviness, -1)(job)).toThrow('board.wavinessMrad: expected 0 to 100 mrad, got -1')
    expect(() => setAssumed(waviness, Number.NaN)(job)).toThrow('got NaN')
    const pupil = numbers.find(one => one.key === 'view.pupil')!
    expect(() => setAssumed(pupil, 3)(job)).toThrow('is not set as a number')
  })

  test('a note says that one was measured, until another value is taken', () => {
    const waviness = numbers.find(one => one.key === 'board.wavinessMrad')!
    const noted = setMeasured(waviness.key, 'photo of a lamp at 5 m, May')(setAssumed(waviness, 2)(job))
    expect(measuredNote(noted, waviness.key)).toBe('photo of a lamp at 5 m, May')
    expect(measuredNote(setAssumed(waviness, 4)(noted), waviness.key)).toBeNull()
  })
})
