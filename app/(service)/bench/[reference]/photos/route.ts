import { takePhoto } from "@/app/_photos/take-photo";
import { legAsked } from "@/lib/transport/leg";

interface PhotosRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

export async function POST(request: Request, { params }: PhotosRoute): Promise<Response> {
  const { reference } = await params;
  const page = `/bench/${encodeURIComponent(reference)}`;
  return takePhoto(request, reference, (view, leg) => {
    if (view.startsWith("told-")) return `${page}#told-photos`;
    if (view === "proof-of-sale") return `${page}#proof`;
    // The box that goes out is photographed where it is packed, one that came in at goods-in.
    return leg === "" ? `${page}/receiving#photographs` : `${page}/transport/${legAsked(leg)}#packing`;
  });
}
