import type { InventoryField } from '../../exchange/read/karst-columns';
import type { FeatureFault } from '../../exchange/read/karst-raw';

export const FEATURE_FIELD_WORDS: Readonly<Record<InventoryField, string>> = {
  external_id: 'number in its source',
  type: 'type of feature',
  name: 'name',
  status: 'status',
  source: 'source',
  confidentiality: 'confidentiality class',
  note: 'note',
  observed_at: 'seen on',
  entered_at: 'entered on',
  length_m: 'length (m)',
  width_m: 'width (m)',
  depth_m: 'depth (m)',
  long_axis_deg: 'long axis (degrees from north)',
  water: 'water',
  accuracy_m: 'accuracy (m)',
  accuracy_level: 'accuracy level (68 or 95)',
  lon: 'longitude',
  lat: 'latitude',
  easting: 'easting (m)',
  northing: 'northing (m)',
  epsg: 'coordinate system (EPSG)',
  lon_text: 'longitude as text (DMS)',
  lat_text: 'latitude as text (DMS)',
  place_text: 'both coordinates as text',
  owner_consent: 'owner’s consent',
  photo: 'photo',
};

/** Headings of the notes on a file, the gravest first. */
export const FAULT_WORDS: Readonly<Record<FeatureFault['code'], string>> = {
  impossible_coordinates: 'Coordinates that cannot be',
  no_place: 'Rows without a place',
  bad_geometry: 'Outlines that are not right',
  impossible_dms: 'Impossible degrees, minutes and seconds',
  place_said_twice_differs: 'Positions given twice that disagree',
  datum_shift_suspected: 'Two datums seem to be mixed',
  probable_lon_lat_swap: 'Longitude and latitude seem to be swapped',
  lon_equals_lat: 'Longitude and latitude are the same number',
  bad_value: 'Values that could not be understood',
};
