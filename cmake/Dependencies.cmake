# Every library comes from the system (README and the scripts name the packages); elsewhere give the usual
# hints: -DJUCE_DIR=..., -DCMAKE_PREFIX_PATH=...
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)
pkg_check_modules(FFTW3 REQUIRED IMPORTED_TARGET fftw3)
find_package(nlohmann_json 3.10 REQUIRED)
find_package(CLI11 2.1 REQUIRED)
find_package(PNG)  # Debian's JUCE uses the system's image libraries
find_package(JPEG)
find_package(JUCE CONFIG REQUIRED) # 7.0.5 or newer; its version file accepts only an exact match

# The JUCE modules, compiled once and shared by the program, the tests and whatever comes later.
add_library(plumbline_juce STATIC)
target_compile_definitions(plumbline_juce
    PUBLIC
        JUCE_GLOBAL_MODULE_SETTINGS_INCLUDED=1
        JUCE_WEB_BROWSER=0
        JUCE_USE_CURL=0
        JUCE_USE_FLAC=0 # not in every distribution's JUCE, and never needed here
        JUCE_USE_OGGVORBIS=0
        JUCE_DISPLAY_SPLASH_SCREEN=0 # allowed under the GPL
        JUCE_VST3_CAN_REPLACE_VST2=0
        JUCE_STRICT_REFCOUNTEDPOINTER=1
        JUCE_MODAL_LOOPS_PERMITTED=1 # only the tests run one
        JUCE_USE_WIN_WEBVIEW2=0
        $<$<PLATFORM_ID:Linux>:JUCE_JACK=1>
        JUCE_PLUGINHOST_VST3=1 # the tests host what is built; what is not used is not linked
        JUCE_PLUGINHOST_LV2=1
    INTERFACE
        $<TARGET_PROPERTY:plumbline_juce,COMPILE_DEFINITIONS>)
target_include_directories(plumbline_juce SYSTEM INTERFACE
    $<TARGET_PROPERTY:plumbline_juce,INCLUDE_DIRECTORIES>)
target_link_libraries(plumbline_juce
    PRIVATE
        juce::juce_audio_basics
        juce::juce_audio_devices
        juce::juce_audio_formats
        juce::juce_audio_processors
        juce::juce_audio_utils
        juce::juce_gui_basics
    PUBLIC
        Threads::Threads ${CMAKE_DL_LIBS}
        $<TARGET_NAME_IF_EXISTS:PNG::PNG> $<TARGET_NAME_IF_EXISTS:JPEG::JPEG>)
target_compile_options(plumbline_juce PRIVATE -w -ffunction-sections -fdata-sections) # not our code
