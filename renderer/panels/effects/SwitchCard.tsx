import { useMemo } from 'react'
import { Pick } from '../Choice.tsx'
import { LayerThumb } from './LayerThumb.tsx'
import { asLight, type Shines } from './light.ts'
import type { PictureCardProps } from './sources.ts'
import { usePictures } from './usePictures.ts'
import { fanAngles, ViewPreview } from './ViewPreview.tsx'

/** The two pictures that take turns. */
export function SwitchCard({ parameters, sources, put }: PictureCardProps) {
  const second = typeof parameters.secondLayerId === 'string' ? parameters.secondLayerId : null
  const ids = second === null ? [null] : [null, second]
  const pictures = usePictures(sources, ids)
  const shines = parameters.reading as Shines
  const views = useMemo(
    () => pictures.map(one => (one === null ? [] : [{ picture: asLight(one, shines) }])),
    [pictures, shines],
  )
  const { widthMm, heightMm } = sources.panel
  return (
    <fieldset className="pair">
      <legend>Two pictures</legend>
      <div className="pair-row">
        <figure>
          <LayerThumb sources={sources} layerId={null} />
          <figcaption>{sources.ownName}</figcaption>
        </figure>
        <span className="swap" aria-hidden="true">
          ⇄
        </span>
        <figure>
          {second === null ? (
            <span className="thumb none" />
          ) : (
            <LayerThumb sources={sources} layerId={second} />
          )}
          <figcaption>{sources.layers.find(one => one.id === second)?.name ?? 'not chosen yet'}</figcaption>
        </figure>
      </div>
      <Pick
        label="The other picture"
        value={second ?? ''}
        options={[
          { value: '', title: 'Choose a layer…' },
          ...sources.layers.map(layer => ({ value: layer.id, title: layer.name })),
        ]}
        onChange={id => put({ secondLayerId: id === '' ? null : id }, null)}
      />
      {second === null ? null : (
        <ViewPreview
          views={views}
          angles={fanAngles(2, Number(parameters.fanDeg))}
          aspect={widthMm / heightMm}
          name={i => (i === 0 ? 'first picture' : 'second picture')}
        />
      )}
    </fieldset>
  )
}
