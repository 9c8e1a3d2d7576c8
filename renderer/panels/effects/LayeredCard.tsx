import { useMemo } from 'react'
import { mostPlanes } from '../../../core/effects/view-image.ts'
import { Pick } from '../Choice.tsx'
import { NumberField } from '../NumberField.tsx'
import { DepthDrawing, placeWords } from './DepthDrawing.tsx'
import { LayerThumb } from './LayerThumb.tsx'
import { asLight, type Shines } from './light.ts'
import type { PictureCardProps } from './sources.ts'
import { usePictures } from './usePictures.ts'
import { fanAngles, type Sheet, ViewPreview } from './ViewPreview.tsx'

interface Plane {
  readonly layerId: string
  readonly depthMm: number
}

/** Which layer stands at which depth. The effect's own layer is the first plane. */
export function LayeredCard({ kind, parameters, sources, put, onSettle }: PictureCardProps) {
  const { min, max } = kind.controls.find(one => one.key === 'depthMm') ?? anyDepth
  const own = Number(parameters.depthMm)
  const planes = (parameters.planes ?? []) as readonly Plane[]
  const depths = [own, ...planes.map(plane => plane.depthMm)]
  const ids = [null, ...planes.map(plane => plane.layerId)]
  const pictures = usePictures(sources, ids)
  const used = new Set(ids)
  const free = sources.layers.filter(layer => !used.has(layer.id))
  // biome-ignore lint/correctness/useExhaustiveDependencies: the parameters say all that the preview is made of
  const shown = useMemo(preview, [pictures, JSON.stringify(parameters)])
  const set = (next: readonly Plane[], gesture: string | null = null) => put({ planes: next }, gesture)
  return (
    <fieldset className="planes">
      <legend>Planes</legend>
      <DepthDrawing depths={depths} />
      <ol>
        <li>
          <LayerThumb sources={sources} layerId={null} />
          <strong title={sources.ownName}>1 · {sources.ownName}</strong>
          {depth(own, 1, depthMm => put({ depthMm }, 'depthMm'))}
        </li>
        {planes.map((plane, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a plane is its place in the list
          <li key={i}>
            <LayerThumb sources={sources} layerId={plane.layerId} />
            <Pick
              label={`${i + 2}`}
              hideLabel
              value={plane.layerId}
              options={sources.layers
                .filter(layer => layer.id === plane.layerId || !used.has(layer.id))
                .map(layer => ({ value: layer.id, title: `${i + 2} · ${layer.name}` }))}
              onChange={layerId => set(planes.with(i, { ...plane, layerId }))}
            />
            <button
              type="button"
              className="plain small"
              aria-label={`Remove plane ${i + 2}`}
              onClick={() => set(planes.toSpliced(i, 1))}
            >
              ✕
            </button>
            {depth(plane.depthMm, i + 2, depthMm => set(planes.with(i, { ...plane, depthMm }), `plane ${i}`))}
          </li>
        ))}
      </ol>
      {planes.length < mostPlanes && free.length > 0 ? (
        <Pick
          label="Add a plane"
          hideLabel
          value=""
          options={[
            { value: '', title: 'Add a layer as a plane…' },
            ...free.map(layer => ({ value: layer.id, title: layer.name })),
          ]}
          onChange={id =>
            id === ''
              ? undefined
              : set([...planes, { layerId: id, depthMm: Math.max(min, nextDepth(depths)) }])
          }
        />
      ) : null}
      <ViewPreview {...shown} />
    </fieldset>
  )

  function depth(depthMm: number, plane: number, onChange: (mm: number) => void) {
    return (
      <span className="plane-depth">
        <NumberField
          label={`In front, plane ${plane}`}
          value={depthMm}
          unit="mm"
          min={min}
          max={max}
          step={0.5}
          digits={1}
          onChange={onChange}
          onSettle={onSettle}
        />
        <span className="quiet">{placeWords(depthMm)}</span>
      </span>
    )
  }

  /** What is in front of the carton moves against the eye: at x on the carton the eye sees the plane at x + z tan θ. */
  function preview() {
    const angles = fanAngles(Number(parameters.views), Number(parameters.fanDeg))
    const direction = (Number(parameters.directionDeg) * Math.PI) / 180
    const order = depths.map((_, i) => i).sort((a, b) => depths[a]! - depths[b]! || a - b)
    const sheets = order.flatMap(i => {
      const picture = pictures[i]
      return picture ? [{ picture: asLight(picture, parameters.reading as Shines), depth: depths[i]! }] : []
    })
    const { widthMm, heightMm } = sources.panel
    const views = angles.map(angle =>
      sheets.map(({ picture, depth }): Sheet => {
        const moved = depth * Math.tan((angle * Math.PI) / 180)
        return {
          picture,
          shift: [(-moved * Math.cos(direction)) / widthMm, (moved * Math.sin(direction)) / heightMm],
        }
      }),
    )
    return {
      views: sheets.length === 0 ? [] : views,
      angles,
      aspect: widthMm / heightMm,
      name: (i: number) => `view ${i + 1}`,
    }
  }
}

/** Where the kind says nothing. */
const anyDepth = { min: -50, max: 50 }

/** A plane that is added stands behind all others. */
const nextDepth = (depths: readonly number[]): number => Math.min(...depths) - 3
