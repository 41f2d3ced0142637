#include "viewer/draw/picture/film.h"

#include <webp/encode.h>
#include <webp/mux.h>

#include <memory>

namespace swashwright::draw {
namespace {

struct Release {
    void operator()(WebPAnimEncoder* encoder) const { WebPAnimEncoderDelete(encoder); }
};

/// One picture as WebP holds it.
class FilmPicture {
public:
    explicit FilmPicture(const Pixels& pixels) {
        good_ = WebPPictureInit(&picture_) != 0;
        picture_.use_argb = 1;
        picture_.width = pixels.width;
        picture_.height = pixels.height;
        good_ = good_ && WebPPictureImportRGB(&picture_, pixels.rgb.data(), 3 * pixels.width) != 0;
    }
    ~FilmPicture() { WebPPictureFree(&picture_); }
    FilmPicture(const FilmPicture&) = delete;
    FilmPicture& operator=(const FilmPicture&) = delete;

    bool good() const { return good_; }
    WebPPicture* get() { return &picture_; }

private:
    WebPPicture picture_{};
    bool good_ = false;
};

}  // namespace

tl::expected<std::string, std::string> make_film(const head::Description& description,
                                                 const std::vector<Moment>& moments, int milliseconds,
                                                 PictureOrder order) {
    WebPAnimEncoderOptions options;
    WebPConfig config;
    if (WebPAnimEncoderOptionsInit(&options) == 0 || WebPConfigInit(&config) == 0)
        return tl::unexpected(std::string("the film cannot be written: libwebp is another version than expected"));
    options.anim_params.loop_count = 0;  // for ever
    config.quality = 88;
    config.method = 2;  // quick
    const std::unique_ptr<WebPAnimEncoder, Release> encoder(WebPAnimEncoderNew(order.width, order.height, &options));
    if (!encoder) return tl::unexpected(std::string("the film cannot be written: there is no memory for it"));
    auto easel = Easel::open(description, order.width, order.height);
    if (!easel) return tl::unexpected(easel.error());
    int at = 0;
    for (const Moment& moment : moments) {
        order.pose = moment.words;
        FilmPicture frame(easel->draw(moment.pose, order));
        if (!frame.good() || WebPAnimEncoderAdd(encoder.get(), frame.get(), at, &config) == 0)
            return tl::unexpected(std::string("the film cannot be written: ") + WebPAnimEncoderGetError(encoder.get()));
        at += milliseconds;
    }
    WebPData data;
    WebPDataInit(&data);
    if (WebPAnimEncoderAdd(encoder.get(), nullptr, at, nullptr) == 0 ||
        WebPAnimEncoderAssemble(encoder.get(), &data) == 0)
        return tl::unexpected(std::string("the film cannot be written: ") + WebPAnimEncoderGetError(encoder.get()));
    std::string bytes(reinterpret_cast<const char*>(data.bytes), data.size);  // NOLINT: bytes are bytes
    WebPDataClear(&data);
    return bytes;
}

}  // namespace swashwright::draw
