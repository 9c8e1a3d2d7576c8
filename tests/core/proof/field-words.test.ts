import { expect, test } from 'vitest'
import { fieldWords } from '../../../core/proof/field-words.ts'

test.each([
  ['light.lamps.0.pose.elevationDeg', 'light, lamp 1, pose, elevation', '°'],
  ['panel.widthMm', 'panel, width', ' mm'],
  ['board.wavinessMrad', 'board, waviness', ' mrad'],
  ['paths.2.keys.0.timeS', 'path 3, key 1, time', ' s'],
  ['sketch.whitePart', 'sketch, white part', ''],
  ['carton.fold', 'carton, fold', ''],
  ['light.lamps.0.lux', 'light, lamp 1, lux', ''],
  ['limits.legibility.contrast-4', 'limits, legibility, contrast-4', ''],
])('%s is %s', (path, words, unit) => {
  expect(fieldWords(path)).toEqual({ words, unit })
})
