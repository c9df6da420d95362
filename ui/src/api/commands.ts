// The shell's commands, one function each. Every one may fail with a Message.
import { invoke } from "@tauri-apps/api/core";
import type {
  BundleMade,
  BundleReport,
  CameraView,
  Change,
  Choice,
  CodeOutcome,
  Confirming,
  EnrolView,
  Hit,
  HomeView,
  InstrumentView,
  LinkView,
  ListsView,
  Message,
  NearSite,
  NearView,
  Network,
  LabelFile,
  LabelOrder,
  LabelPreview,
  LabelsView,
  PinView,
  PlanView,
  RecordedFrame,
  RecordView,
  RegisterReport,
  SendView,
  StatusView,
  TargetView,
  VisitView,
} from "./types";

export const home = () => invoke<HomeView>("home");
export const setTechnician = (name: string) => invoke<HomeView>("set_technician", { name });
export const pinView = () => invoke<PinView>("pin_view");
export const pinSet = (pin: string, again: string) => invoke<PinView>("pin_set", { pin, again });
export const pinChange = (old: string, pin: string, again: string) =>
  invoke<PinView>("pin_change", { old, pin, again });
export const pinRemove = (old: string) => invoke<PinView>("pin_remove", { old });
export const registerLoad = (upload: string) => invoke<RegisterReport>("register_load", { upload });

export const uploadBegin = (name: string, size: number) => invoke<string>("upload_begin", { name, size });
export const uploadPiece = (upload: string, at: number, base64: string) =>
  invoke<null>("upload_piece", { upload, at, base64 });
export const uploadDrop = (upload: string) => invoke<null>("upload_drop", { upload });

export const camera = () => invoke<CameraView>("camera");
export const recordedFrame = (at: number) => invoke<RecordedFrame | null>("recorded_frame", { at });

export const findFrame = ({ width, height, base64 }: RecordedFrame) =>
  invoke<CodeOutcome | null>("find_frame", { width, height, base64 });
export const findLonger = () => invoke<CodeOutcome>("find_longer");
export const findPhoto = (upload: string) => invoke<CodeOutcome>("find_photo", { upload });
export const search = (text: string) => invoke<Hit[]>("search", { text });
export const lists = () => invoke<ListsView>("lists");
export const near = (position: [number, number] | null, accuracy: number) =>
  invoke<NearView>("near", { position, accuracy });
export const nearSite = (site: string) => invoke<NearSite>("near_site", { site });
export const instrument = (tag: string) => invoke<InstrumentView>("instrument", { tag });
export const linkAsk = (tag: string, code: string) => invoke<LinkView>("link_ask", { tag, code });
export const link = (tag: string, code: string) => invoke<Message>("link", { tag, code });
export const plan = (tag: string) => invoke<PlanView>("plan", { tag });

export const visitBegin = (tag: string, foundBy: Choice, code: string) =>
  invoke<VisitView>("visit_begin", { tag, foundBy, code });
export const visitOpen = (id: string) => invoke<VisitView>("visit_open", { id });
export const visitChange = (id: string, change: Change) => invoke<VisitView>("visit_change", { id, change });
export const target = (id: string) => invoke<TargetView | null>("target", { id });
export const visitDiscard = (id: string) => invoke<HomeView>("visit_discard", { id });
export const visitSign = (id: string, confirming: Confirming) =>
  invoke<RecordView>("visit_sign", { id, confirming });

export const photoAdd = (id: string, upload: string) => invoke<VisitView>("photo_add", { id, upload });

export const exchangeNow = () => invoke<SendView>("exchange_now");
export const exchangeCancel = () => invoke<SendView>("exchange_cancel");
export const exchangeView = () => invoke<SendView>("exchange_view");
export const exchangeStatus = () => invoke<StatusView>("exchange_status");
export const exchangeAllow = (photosMetered: boolean, paused: boolean) =>
  invoke<SendView>("exchange_allow", { photosMetered, paused });
export const exchangeNetwork = (network: Network) => invoke<null>("exchange_network", { network });
export const enrol = (text: string) => invoke<EnrolView>("enrol", { text });
export const enrolView = () => invoke<EnrolView>("enrol_view");
export const enrolGiveUp = () => invoke<EnrolView>("enrol_give_up");
export const photosFree = () => invoke<string>("photos_free");
export const bundleMake = () => invoke<BundleMade>("bundle_make");
export const bundleTake = (upload: string) => invoke<BundleReport>("bundle_take", { upload });

export const record = (id: string) => invoke<RecordView>("record", { id });
export const recordExport = (id: string) => invoke<string>("record_export", { id });

export const labels = () => invoke<LabelsView>("labels");
export const labelsPreview = (order: LabelOrder) => invoke<LabelPreview>("labels_preview", { order });
export const labelsExport = (order: LabelOrder, file: LabelFile) =>
  invoke<string>("labels_export", { order, file });
