import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import { deepest, pitchRange } from '../effects/parameters.ts'
import { grooveShapes, type Stack } from '../optics/matter.ts'
import { placeInJson } from './json-place.ts'
import { fields, hits, oneOf, range, wants } from './schema.ts'

/** One spot described by hand: foil with or without grating and white, under process inks. */
const materialSchema = fields({
  grating: v.nullable(
    fields({
      pitchNm: range(...pitchRange, 'nm'),
      azimuthDeg: range(-3600, 3600, 'degrees'),
      grooveDepthNm: range(0, deepest, 'nm'),
      shape: oneOf(grooveShapes),
      share: range(0, 1),
    }),
  ),
  white: v.nullable(fields({ coverage: range(0, 1), opacity: range(0, 1), hits })),
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
              shape: grating.shape,
              share: grating.share,
              spreadAlong: 0,
              spreadAcross: 0,
            },
          ],
    whites: white === null ? [] : [white],
    cmyk,
    spots: [],
    varnish,
  }
}
