export { type GeoPoint, geodesicKm } from './geodesic.ts';
export {
  DEFAULT_TRAVEL_PARAMS,
  estimateLeg,
  type TravelLeg,
  type TravelMatrix,
  type TravelOverride,
  type TravelParams,
  type TravelPlace,
  travelMatrix,
} from './travel-matrix.ts';
