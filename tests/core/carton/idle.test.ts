import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { cartonOf, usedSettings } from '../../../core/carton/carton.ts'
import { idleFindings } from '../../../core/carton/idle.ts'
import { type SettingKey, settingKeys } from '../../../core/carton/settings.ts'
import { type CartonSpec, measures } from '../../../core/carton/spec.ts'
import { cartonStyles, styleNamed } from '../../../core/carton/style.ts'

const spec = (style: (typeof cartonStyles)[number], more: Partial<CartonSpec> = {}): CartonSpec => ({
  ...style,
  lengthMm: 130,
  widthMm: 60,
  heightMm: 120,
  measure: 'outside',
  caliperMm: 0.4,
  own: {},
  code: '',
  ...more,
})

/** All that an allowance may change; zones and bleed only where one of those is asked for, since they take longest. */
const drawn = (of: CartonSpec, key: SettingKey) => {
  const { blank } = cartonOf(of)
  const zones = key === 'glueMarginMm' || key === 'bleedMm' ? [blank.die.glue, blank.die.bleed] : []
  return JSON.stringify([blank.panels, blank.hinges, zones])
}

describe.each(cartonStyles)('$name', style => {
  test.each(measures)('measured %s: an allowance is idle exactly where nothing is drawn with it', measure => {
    // On thin and thick board: a least measure may hide what follows from an allowance on one of them.
    const boards = [0.4, 1.6].map(caliperMm => {
      const of = spec(style, { measure, caliperMm })
      return { of, allow: cartonOf(of).allow }
    })
    for (const key of settingKeys) {
      const tried = boards.flatMap(({ of, allow }) => {
        const plain = drawn(of, key)
        return [0.6 * allow[key], 1.5 * allow[key] + 0.5].map(value => {
          try {
            return drawn({ ...of, own: { [key]: value } }, key) === plain
          } catch (error) {
            if (error instanceof BadInput) return true
            throw error
          }
        })
      })
      const idle = !usedSettings(spec(style, { measure })).has(key)
      expect([key, tried.every(same => same)]).toEqual([key, idle])
    }
  })
})

test('a tuck for a sleeve is said, with what its ends are', () => {
  const [told, ...more] = idleFindings(
    spec(styleNamed('sleeve') as never, { own: { tuckMm: 16, glueMm: 12 } }),
  )
  expect(more).toEqual([])
  expect(told).toMatchObject({
    severity: 'note',
    code: 'carton-setting-idle',
    where: 'tuck',
    message:
      '16 mm is set, and a carton with an open top and an open bottom has no use for it: it changes nothing',
  })
})

test('slack for a size taken outside is said', () => {
  const sleeve = styleNamed('sleeve') as never
  expect(idleFindings(spec(sleeve, { own: { slackMm: 1 } }))[0]!.message).toMatch(
    /a size that is taken outside/,
  )
  expect(idleFindings(spec(sleeve, { measure: 'inside', own: { slackMm: 1 } }))).toEqual([])
})
