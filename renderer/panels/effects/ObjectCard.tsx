import { useMemo } from 'react'
import { type Turning, turningRanges } from '../../../core/effects/object/turn.ts'
import type { Picture } from '../../../core/host/picture.ts'
import type { Asset } from '../../../core/job/asset.ts'
import { NumberField } from '../NumberField.tsx'
import { AssetFiles } from './AssetFiles.tsx'
import type { PictureCardProps } from './sources.ts'
import { useLoaded } from './useLoaded.ts'
import { fanAngles, ViewPreview } from './ViewPreview.tsx'
import { ViewStrip } from './ViewStrip.tsx'

const none: readonly Picture[] = []

/** The object: numbered pictures or a model, how a model is looked at, and what each view shows. */
export function ObjectCard({ parameters, sources, onSettle }: PictureCardProps) {
  const asset = sources.assets.find(one => one.id === parameters.assetId) ?? null
  const loaded = useLoaded(JSON.stringify(asset), async () =>
    asset === null ? null : await sources.assetPictures(asset),
  )
  const pictures = asset === null ? none : (loaded?.pictures ?? none)
  const views = useMemo(() => pictures.map(picture => [{ picture }]), [pictures])
  const first = pictures[0]
  return (
    <fieldset className="object">
      <legend>The object</legend>
      <AssetFiles
        asset={asset}
        findings={asset === null ? [] : (loaded?.findings ?? [])}
        kinds={[
          { kind: 'views', title: 'Numbered pictures…' },
          { kind: 'model', title: 'A model…' },
        ]}
        onChoose={kind => sources.onChoose(kind, 'assetId')}
      />
      {pictures.length > 0 ? <ViewStrip pictures={pictures} /> : null}
      {first === undefined ? null : (
        <ViewPreview
          views={views}
          angles={fanAngles(pictures.length, Number(parameters.fanDeg))}
          aspect={first.width / first.height}
          name={i => `view ${i + 1} of ${pictures.length}`}
        />
      )}
      {asset?.kind === 'model' ? (
        <TurningFields asset={asset} onAsset={sources.onAsset} onSettle={onSettle} />
      ) : null}
    </fieldset>
  )
}

const fields = [
  { key: 'views', label: 'Views', unit: undefined, step: 1 },
  { key: 'fanDeg', label: 'Turned from first to last', unit: '°', step: 1 },
  { key: 'turnDeg', label: 'Turned to begin with', unit: '°', step: 5 },
  { key: 'elevationDeg', label: 'Seen from above by', unit: '°', step: 1 },
] as const

function TurningFields(props: {
  readonly asset: Asset & { readonly kind: 'model' }
  readonly onAsset: (asset: Asset, gesture: string) => void
  readonly onSettle: () => void
}) {
  const { asset } = props
  const put = (change: Partial<Turning>) =>
    props.onAsset({ ...asset, turning: { ...asset.turning, ...change } }, Object.keys(change).join())
  const { eyeLengths } = asset.turning
  const [nearest, furthest] = turningRanges.eyeLengths
  return (
    <div className="fields two">
      {fields.map(({ key, label, unit, step }) => (
        <NumberField
          key={key}
          label={label}
          value={asset.turning[key]}
          {...(unit === undefined ? {} : { unit })}
          min={turningRanges[key][0]}
          max={turningRanges[key][1]}
          step={step}
          onChange={value => put({ [key]: value })}
          onSettle={props.onSettle}
        />
      ))}
      {eyeLengths === null ? null : (
        <NumberField
          label="Eye away, in its lengths"
          value={eyeLengths}
          unit="×"
          min={nearest}
          max={furthest}
          step={0.5}
          digits={1}
          onChange={value => put({ eyeLengths: value })}
          onSettle={props.onSettle}
        />
      )}
      <label className="tick">
        <input
          type="checkbox"
          checked={eyeLengths === null}
          onChange={event => put({ eyeLengths: event.target.checked ? null : 8 })}
        />
        Parallel rays
      </label>
    </div>
  )
}
