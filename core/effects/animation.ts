import type { EffectChoice, EffectControl, EffectKind } from './effect.ts'
import { designedLimits } from './limits.ts'
import { ParameterReader } from './parameters.ts'
import { type PlaceMm, type Raster, shining } from './picture.ts'
import { inTurn } from './switch.ts'
import { fewestViews, mostViews } from './view-image.ts'
import { layerId, readPictureViews, viewChoices, viewControls, viewDefaults } from './view-parameters.ts'

const framesChoice: EffectChoice = {
  key: 'frames',
  label: 'The pictures are',
  options: [
    { value: 'layers', label: 'Layers, this one first' },
    { value: 'grid', label: 'Parts of this layer, in rows' },
  ],
}
const gridControls: readonly EffectControl[] = [
  {
    key: 'columns',
    label: 'Pictures side by side',
    unit: '',
    min: 1,
    max: mostViews,
    step: 1,
    when: { key: 'frames', values: ['grid'] },
  },
  {
    key: 'rows',
    label: 'Rows of pictures',
    unit: '',
    min: 1,
    max: mostViews,
    step: 1,
    when: { key: 'frames', values: ['grid'] },
  },
]

/** Pictures that follow one another. */
export const animation: EffectKind = {
  name: 'animation',
  title: 'Moving picture',
  says: 'Pictures follow one another as the carton turns, two to sixteen of them, each fading into the next. Pictures drawn in rows on one layer show in the place of the first, the upper left one.',
  controls: [...gridControls, ...viewControls],
  limits: designedLimits(
    0.5,
    'Each frame has its part of the surface: more frames, each darker. One such set to a place.',
  ),
  choices: [framesChoice, ...viewChoices],
  defaults: { frames: 'layers', layerIds: [], columns: 4, rows: 1, ...viewDefaults },
  prepare(parameters, frame) {
    const reader = new ParameterReader(animation.name, parameters, animation.defaults)
    const grid = reader.choice('frames', ['layers', 'grid']) === 'grid'
    const [columns, rows] = gridControls.map(control => reader.number(control)) as [number, number]
    const others = readLayers(reader)
    const count = grid ? columns * rows : 1 + others.length
    if (grid && (count < fewestViews || count > mostViews || !Number.isInteger(count)))
      reader.refuse(
        'columns and rows',
        `expected ${fewestViews}..${mostViews} pictures, got ${columns} × ${rows}`,
        'Count the pictures in a row, and the rows.',
      )
    const place: PlaceMm = {
      leftMm: frame.centerXMm - frame.widthMm / 2,
      bottomMm: frame.centerYMm + frame.heightMm / 2 - frame.heightMm / rows,
      widthMm: frame.widthMm / columns,
      heightMm: frame.heightMm / rows,
    }
    const shown = grid
      ? { centerXMm: place.leftMm + place.widthMm / 2, centerYMm: place.bottomMm + place.heightMm / 2 }
      : {}
    const { design, warnings, depth, share, groove, reading, maskLayerId } = readPictureViews(
      reader,
      { ...frame, ...shown },
      Math.max(fewestViews, count),
    )
    const alone = {
      code: 'one-image',
      message: 'the moving picture has only one picture',
      fix: 'Add the layers that follow, or say that this layer holds them in rows.',
    }
    return {
      kind: 'pictures',
      groove,
      maskLayerId,
      wants: [{ from: 'own' }, ...(grid ? [] : others.map(id => ({ from: 'layer', id }) as const))],
      warnings: count < fewestViews ? [...warnings, alone] : warnings,
      open: pictures => {
        const shines = pictures.map(picture => shining(picture, reading))
        return {
          kind: 'views',
          groove,
          design,
          grooveDepth: depth,
          share,
          within: 'all',
          maskLayerId,
          ...(grid ? cut(shines[0]!, place, columns) : inTurn(shines)),
        }
      },
    }
  },
}

/** Parts of one picture, row by row, each shown in the place of the first. */
function cut(all: Raster, place: PlaceMm, columns: number) {
  const { leftMm, bottomMm, widthMm, heightMm } = place
  return {
    place,
    at: (x: number, y: number, out: Float64Array) => {
      const inside = x >= leftMm && x < leftMm + widthMm && y > bottomMm && y <= bottomMm + heightMm
      for (let i = 0; i < out.length; i++)
        out[i] = inside ? all.at(x + (i % columns) * widthMm, y - Math.floor(i / columns) * heightMm) : 0
      return out
    },
  }
}

function readLayers(reader: ParameterReader): readonly string[] {
  const given = reader.get('layerIds')
  if (!Array.isArray(given) || given.length >= mostViews)
    return reader.refuse(
      'layerIds',
      `expected a list of at most ${mostViews - 1} layer ids, got ${JSON.stringify(given)}`,
      'List the layers that follow this one.',
    )
  return given.map((id: unknown, i) => {
    const found = layerId(reader, `layerIds[${i}]`, id)
    return found ?? reader.refuse(`layerIds[${i}]`, 'names no layer', 'Choose a layer.')
  })
}
