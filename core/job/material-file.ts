import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import { coarsestScattered, colorlessSpread, deepest, pitchRange } from '../effects/parameters.ts'
import { type Groove, sampled } from '../optics/groove.ts'
import type { Stack } from '../optics/matter.ts'
import { placeInJson } from './json-place.ts'
import { hits, readPart } from './schema/ink.ts'
import { fields, oneOf, range, wants } from './schema/value.ts'

const height = v.pipe(v.number(wants('a number')), v.finite(wants('a number')))
const heights = v.pipe(
  v.array(height, wants('a list of numbers')),
  v.minLength(4, 'expected at least 4 heights'),
  v.maxLength(4096, 'expected at most 4096 heights'),
  v.check(list => Math.min(...list) < Math.max(...list), 'all heights are the same'),
)

/** One spot described by hand: foil with or without grating and white, under process inks. */
const materialSchema = fields({
  grating: v.nullable(
    v.pipe(
      fields({
        pitchNm: range(pitchRange[0], coarsestScattered, 'nm'),
        azimuthDeg: range(-3600, 3600, 'degrees'),
        grooveDepthNm: range(0, deepest, 'nm'),
        shape: oneOf(['sinusoid', 'rectangular', 'blazed', 'sampled']),
        /** High part of the period of a rectangular groove; half when left out. */
        duty: v.optional(range(0.05, 0.95), 0.5),
        /** Heights of a sampled groove over one period, any unit. */
        heights: v.optional(heights),
        share: range(0, 1),
        /** How far pitch and direction stray, standard deviations; 0 when left out. */
        spreadPercent: v.optional(range(0, 60, '%'), 0),
        jitterDeg: v.optional(range(0, 60, 'degrees'), 0),
      }),
      v.check(
        ({ shape, heights }) => shape !== 'sampled' || heights !== undefined,
        'a sampled groove needs the list "heights"',
      ),
      v.check(
        ({ pitchNm, spreadPercent }) => pitchNm <= pitchRange[1] || spreadPercent >= 100 * colorlessSpread,
        `a pitch above ${pitchRange[1]} nm needs a spreadPercent of at least ${100 * colorlessSpread}`,
      ),
      v.check(
        ({ pitchNm, grooveDepthNm }) => grooveDepthNm <= pitchNm / 2,
        'the groove is deeper than half of the pitch',
      ),
    ),
  ),
  white: v.nullable(
    fields({
      coverage: range(0, 1),
      opacity: readPart,
      hits,
      screen: v.optional(oneOf(['dots', 'even']), 'dots'),
      mottle: v.optional(range(0, 1), 0),
    }),
  ),
  cmyk: v.strictTuple([range(0, 1), range(0, 1), range(0, 1), range(0, 1)], wants('four numbers')),
  /** 0 = bare board, 1 = foil; foil when left out. */
  metal: v.optional(range(0, 1), 1),
  varnish: v.optional(range(0, 1), 0),
})

/**
 * The stack that a material file describes; coverages and shares 0..1, azimuth across the grooves.
 * Throws BadInput, naming the field.
 * @param name file name, for messages
 */
export function parseMaterial(text: string, name: string): Stack {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    throw new BadInput(
      'material-malformed',
      name,
      placeInJson(text, error),
      'is not JSON',
      'Write the material as a JSON object with grating, white and cmyk',
    )
  }
  const parsed = v.safeParse(materialSchema, value)
  if (!parsed.success) {
    const issue = parsed.issues[0]
    const path = v.getDotPath(issue)
    throw new BadInput(
      'material-malformed',
      name,
      path === null ? 'the file' : `field "${path}"`,
      issue.message,
      'Correct the field',
    )
  }
  const { grating, white, cmyk, metal, varnish } = parsed.output
  return {
    metal,
    gratings:
      grating === null
        ? []
        : [
            {
              pitch: grating.pitchNm,
              azimuth: (grating.azimuthDeg * Math.PI) / 180,
              grooveDepth: grating.grooveDepthNm,
              groove: grooveOf(grating),
              share: grating.share,
              spreadAlong: grating.spreadPercent / 100 / grating.pitchNm,
              spreadAcross: (grating.jitterDeg * Math.PI) / 180 / grating.pitchNm,
            },
          ],
    whites: white === null ? [] : [white],
    cmyk,
    spots: [],
    varnish,
  }
}

function grooveOf({
  shape,
  duty,
  heights = [],
}: {
  readonly shape: Groove['shape']
  readonly duty: number
  readonly heights?: readonly number[] | undefined
}): Groove {
  switch (shape) {
    case 'sinusoid':
    case 'blazed':
      return { shape }
    case 'rectangular':
      return { shape, duty }
    case 'sampled':
      return sampled('material file', heights)
  }
}
