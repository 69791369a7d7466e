import { showPhoto } from "@/app/_photos/show-photo";

interface PhotoRoute {
  readonly params: Promise<{ readonly photoId: string }>;
}

export async function GET(request: Request, { params }: PhotoRoute): Promise<Response> {
  return showPhoto(request, (await params).photoId);
}
