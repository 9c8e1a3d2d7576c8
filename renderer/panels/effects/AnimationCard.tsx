import { useMemo } from 'react'
import { mostViews } from '../../../core/effects/view-image.ts'
import { Pick } from '../Choice.tsx'
import { LayerThumb } from './LayerThumb.tsx'
import { asLight, paintedPart, type Shines } from './light.ts'
import type { PictureCardProps } from './sources.ts'
import { usePictures } from './usePictures.ts'
import { fanAngles, type Sheet, ViewPreview } from './ViewPreview.tsx'

/** The pictures that follow one another: layers in their order, or the parts of one. */
export function AnimationCard(props: PictureCardProps) {
  return props.parameters.frames === 'grid' ? <GridFrames {...props} /> : <LayerFrames {...props} />
}

function LayerFrames({ parameters, sources, put }: PictureCardProps) {
  const others = (parameters.layerIds ?? []) as readonly string[]
  const ids = [null, ...others]
  const pictures = usePictures(sources, ids)
  const nameOf = (id: string) =>
    sources.layers.find(one => one.id === id)?.name ?? `layer ${id}, which is gone`
  const free = sources.layers.filter(layer => !others.includes(layer.id))
  const shines = parameters.reading as Shines
  const views = useMemo(
    () => pictures.map(one => (one === null ? [] : [{ picture: asLight(one, shines) }])),
    [pictures, shines],
  )
  const { widthMm, heightMm } = sources.panel
  return (
    <fieldset className="frames">
      <legend>Pictures in their order</legend>
      <ol className="filmstrip">
        <li>
          <LayerThumb sources={sources} layerId={null} />
          <span className="frame-name" title={sources.ownName}>
            1
          </span>
        </li>
        {others.map((id, i) => (
          <li key={id}>
            <LayerThumb sources={sources} layerId={id} />
            <span className="frame-name" title={nameOf(id)}>
              {i + 2}
            </span>
            <span className="frame-tools">
              <button
                type="button"
                className="plain small"
                aria-label={`${nameOf(id)} earlier`}
                disabled={i === 0}
                onClick={() => put({ layerIds: swapped(others, i - 1) }, null)}
              >
                ‹
              </button>
              <button
                type="button"
                className="plain small"
                aria-label={`Leave ${nameOf(id)} out`}
                onClick={() => put({ layerIds: others.filter(one => one !== id) }, null)}
              >
                ✕
              </button>
            </span>
          </li>
        ))}
      </ol>
      {others.length < mostViews - 1 && free.length > 0 ? (
        <Pick
          label="Add a picture"
          hideLabel
          value=""
          options={[
            { value: '', title: 'Add the layer that follows…' },
            ...free.map(layer => ({ value: layer.id, title: layer.name })),
          ]}
          onChange={id => (id === '' ? undefined : put({ layerIds: [...others, id] }, null))}
        />
      ) : null}
      {others.length === 0 ? null : (
        <ViewPreview
          views={views}
          angles={fanAngles(ids.length, Number(parameters.fanDeg))}
          aspect={widthMm / heightMm}
          name={i => `picture ${i + 1}`}
        />
      )}
    </fieldset>
  )
}

function GridFrames({ parameters, sources }: PictureCardProps) {
  const [picture] = usePictures(sources, [null])
  const [columns, rows] = [Number(parameters.columns), Number(parameters.rows)]
  const count = columns * rows
  const { widthMm, heightMm } = sources.panel
  const shines = parameters.reading as Shines
  const views = useMemo(() => {
    if (!picture || count < 2 || count > mostViews) return []
    const light = asLight(picture, shines)
    const [left, top, right, bottom] = paintedPart(light)
    const [wide, high] = [(right - left) / columns, (bottom - top) / rows]
    return Array.from({ length: count }, (_, i): readonly Sheet[] => {
      const [x, y] = [left + (i % columns) * wide, top + Math.floor(i / columns) * high]
      return [{ picture: light, part: [x, y, x + wide, y + high] }]
    })
  }, [picture, shines, columns, rows, count])
  if (views.length === 0) return null
  return (
    <fieldset className="frames">
      <legend>Parts of this layer</legend>
      <ViewPreview
        views={views}
        angles={fanAngles(count, Number(parameters.fanDeg))}
        aspect={widthMm / heightMm}
        name={i => `picture ${i + 1} of ${count}`}
      />
    </fieldset>
  )
}

/** Two neighbours in each other's place. */
const swapped = (list: readonly string[], i: number): readonly string[] =>
  list.with(i, list[i + 1]!).with(i + 1, list[i]!)
